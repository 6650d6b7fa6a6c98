export type { Ms1Spectrum, OnMs1 } from './ms1-spectrum.ts';
export { type RunReader, type RunReaderOptions, runReader } from './run-reader.ts';
export type { Inflate, RunRecord } from './run-record.ts';
