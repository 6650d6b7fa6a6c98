export { rawSidecar } from './raw-reader.ts';
export { traceReader } from './trace-reader.ts';
export {
  BLOCK_SAMPLES,
  type DelimiterName,
  type RawChannel,
  type RawFormat,
  type RawSidecar,
  type TraceBlock,
  type TraceChannel,
  type TraceEnd,
  type TraceGap,
  type TraceHead,
  type TraceKind,
  type TraceOptions,
  type TraceQuantity,
  type TraceReader,
  type TraceSink,
} from './trace-record.ts';
