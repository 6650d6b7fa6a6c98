export type { Plan } from '../core/plan/index.ts';
export { type RunReading, readingCsv, readingText } from '../evidence/index.ts';
export { type Bench, type BenchOptions, benchFolder, openBench } from './bench.ts';
export { type DemoBench, ensureDemoBench } from './demo-bench.ts';
export { packagePath, version } from './package-root.ts';
export { type KeptPlan, keepPlan, planAndKeep } from './plan-and-keep.ts';
export {
  fileName,
  type KeptReading,
  keepReading,
  type ReadOptions,
  type RunAsRead,
  readOneRun,
  readRunAndKeep,
  readRunStreamAndKeep,
} from './read-and-keep.ts';
export { keptReadingCsv } from './reading-csv.ts';
export { loadSetupFile, SETUP_BYTES_MAX, setupFromText } from './setup-file.ts';
export { startingSetup } from './starting-setup.ts';
