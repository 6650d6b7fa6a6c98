export { ASSUMPTIONS, DIFFERS } from './assumptions.ts';
export { type Bench, type BenchOptions, createBench, TICK_S } from './bench.ts';
export type { BenchState } from './bench-state.ts';
export { type BenchControls, CONTROL_RANGE, checkedControl, TURNED, type Turned } from './controls.ts';
export {
  type HiddenAnswer,
  type HiddenPoint,
  type HiddenSource,
  type HiddenSourceOptions,
  hiddenSource,
} from './hidden-source.ts';
export { type MeniscusPicture, meniscusPicture } from './meniscus-picture.ts';
export { METERS, type Meter, type MeterName } from './meter.ts';
export { type NamedAnswer, namedFault, UNSAID } from './named-fault.ts';
export {
  READING_S,
  type Reading,
  type ReadingLog,
  readingLog,
  type SettledLevel,
  settledLevel,
} from './readings.ts';
export { BENCH_REGIMES, type BenchRegime } from './regime.ts';
export {
  FILE_FAULTS,
  faultsFor,
  NOT_REHEARSED,
  REHEARSED_FAULTS,
  type RehearsedFault,
  rehearsedFaultName,
  SAME_HERE,
} from './rehearsed-faults.ts';
export { DARK_LEVEL, type Scan } from './scan-tally.ts';
export {
  type BenchScript,
  type Course,
  controlsAt,
  courseAt,
  courseOf,
  type RecordedRun,
  recordRun,
  type Stretch,
  type TracePiece,
} from './script.ts';
export { pcmBytes, rawSidecarText, traceCsvHead, traceCsvRows, wavHead } from './trace-files.ts';
export { type BenchTruth, benchTruth, rehearsalSetup } from './truth.ts';
export { type TruthDocument, truthDocument } from './truth-document.ts';
export { type BestPoint, bestPoint, leftVoltage, workingVoltage } from './working-point.ts';
