export { type RunReader, type RunReaderOptions, runReader } from './run-reader.ts';
export type { Inflate, RunRecord } from './run-record.ts';
