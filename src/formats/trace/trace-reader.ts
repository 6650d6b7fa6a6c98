/** One door for every trace: raw samples by their sidecar, everything else by its first bytes, never by the name. */
import { rawReader } from './raw-reader.ts';
import { tableReader } from './table-reader.ts';
import { SNIFFED, traceKind } from './trace-kind.ts';
import type { TraceOptions, TraceReader, TraceSink } from './trace-record.ts';
import { wavReader } from './wav-reader.ts';

export function traceReader(options: TraceOptions, sink: TraceSink): TraceReader {
  let reader: TraceReader | undefined = options.sidecar
    ? rawReader(options, options.sidecar, sink)
    : undefined;
  let head = new Uint8Array(0);
  const begin = () => {
    reader = readerFor(head, options, sink);
    reader.push(head);
    head = new Uint8Array(0);
  };
  return {
    push(bytes) {
      if (reader) return reader.push(bytes);
      const all = new Uint8Array(head.length + bytes.length);
      all.set(head);
      all.set(bytes, head.length);
      head = all;
      if (head.length >= SNIFFED) begin();
    },
    end() {
      if (!reader) begin();
      return reader!.end();
    },
  };
}

function readerFor(head: Uint8Array, options: TraceOptions, sink: TraceSink): TraceReader {
  return traceKind(head) === 'wav' ? wavReader(options, sink) : tableReader(options, sink);
}
