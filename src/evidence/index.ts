export type { ReadRunOptions } from './read-run.ts';
export { readRun } from './read-run.ts';
export { readingCsv } from './reading-csv.ts';
export { readingText } from './reading-text.ts';
export type {
  DetectionLimits,
  MaskedSpan,
  PeriodReading,
  RateReading,
  RunEvent,
  RunEventKind,
  RunGroup,
  RunReading,
  SprayReading,
  StabilityGrade,
  StabilityReading,
  VerdictGrade,
} from './run-reading.ts';
export type { RunWitnesses, Witnesses } from './witness/run-witnesses.ts';
export { runWitnesses } from './witness/run-witnesses.ts';
export type { SeenSpectrum } from './witness/seen-spectrum.ts';
