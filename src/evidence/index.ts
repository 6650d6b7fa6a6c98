export { type Method, methodOfGradient, methodOfTraces } from './method-phases.ts';
export type { ReadRunOptions } from './read-run.ts';
export { readRun } from './read-run.ts';
export { readingCsv } from './reading-csv.ts';
export { readingText } from './reading-text.ts';
export type {
  DetectionLimits,
  MaskedSpan,
  MethodPhase,
  MethodReading,
  PeriodReading,
  RateReading,
  RunEvent,
  RunEventKind,
  RunGroup,
  RunReading,
  SideTrace,
  SprayReading,
  StabilityGrade,
  StabilityReading,
  VerdictGrade,
} from './run-reading.ts';
export type { RunWitnesses, Witnesses } from './witness/run-witnesses.ts';
export { runWitnesses } from './witness/run-witnesses.ts';
export type { SeenSpectrum } from './witness/seen-spectrum.ts';
