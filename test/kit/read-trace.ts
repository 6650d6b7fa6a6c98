/** A trace read from bytes in memory, in chunks, with everything that its reader hands on. */
import { InputError } from '../../src/core/errors.ts';
import {
  type TraceEnd,
  type TraceHead,
  type TraceOptions,
  traceReader,
} from '../../src/formats/trace/index.ts';

export interface TraceRead {
  head: TraceHead;
  /** In A and V. */
  current: number[];
  voltage: number[];
  gaps: number[];
  /** Begin of each block [s]. */
  starts_s: number[];
  end: TraceEnd;
}

export function readTraceBytes(data: string | Uint8Array, options: TraceOptions, chunk: number): TraceRead {
  const bytes = typeof data === 'string' ? new TextEncoder().encode(data) : data;
  const read = {
    current: [] as number[],
    voltage: [] as number[],
    gaps: [] as number[],
    starts_s: [] as number[],
  };
  let head: TraceHead | undefined;
  const reader = traceReader(options, {
    head: (h) => {
      head = h;
    },
    block: (b) => {
      read.starts_s.push(b.start_s);
      read.current.push(...b.current.subarray(0, b.count));
      if (b.voltage) read.voltage.push(...b.voltage.subarray(0, b.count));
      if (b.gap_s > 0) read.gaps.push(b.gap_s);
    },
  });
  for (let at = 0; at < bytes.length; at += chunk) reader.push(bytes.subarray(at, at + chunk));
  const end = reader.end();
  return { head: head!, ...read, end };
}

/** The message of the InputError that `work` throws; 'was read' where it throws none. */
export function refusalOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return 'was read';
}
