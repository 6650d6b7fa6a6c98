/** One door for every trace: raw samples by their sidecar, everything else by its first bytes, never by the name. */
import { utf16Stream } from '../text-encoding.ts';
import { rawReader } from './raw-reader.ts';
import { tableReader } from './table-reader.ts';
import { SNIFFED, traceKind } from './trace-kind.ts';
import type { TraceOptions, TraceReader, TraceSink } from './trace-record.ts';
import { utf16Kind } from './utf16-text.ts';
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
  const wide = utf16Kind(head);
  if (wide !== undefined) {
    const text = utf16Stream(wide);
    const reader = tableReader(options, sink);
    return { push: (bytes) => reader.push(text(bytes)), end: () => reader.end() };
  }
  return traceKind(head) === 'wav' ? wavReader(options, sink) : tableReader(options, sink);
}
