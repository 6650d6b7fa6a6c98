export { type OpenQuestion, OpenQuestionError, type TableWay } from './open-question.ts';
export { rawSidecar, sidecarQuestions } from './raw-sidecar.ts';
export { type StoredSamples, storedBytes, storedValues } from './stored-samples.ts';
export { type PreviewTable, type TracePreview, tracePreview } from './trace-preview.ts';
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
export { unitsOf } from './trace-units.ts';
