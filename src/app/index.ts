export type { Plan } from '../core/plan/index.ts';
export {
  currentCsv,
  currentPicture,
  currentReadingText,
  flowPicture,
  flowWalkCsv,
  flowWalkText,
  observationsYaml,
  staircasePicture,
  voltageWalkCsv,
  voltageWalkText,
} from '../evidence/current/index.ts';
export type { Explained } from '../evidence/explain/index.ts';
export { explainRunText } from '../evidence/explain/index.ts';
export { type RunReading, readingCsv, readingText } from '../evidence/index.ts';
export {
  BASELINE_FILES,
  compareEmitters,
  csvCell,
  type EmitterComparison,
  keptText,
  type QueueReport,
  queueCsv,
  queueHtml,
  queueReport,
  queueText,
  type RunSummary,
  readiness,
  readingHtml,
  readyText,
  runSummary,
} from '../evidence/queue/index.ts';
export { readWalk } from '../evidence/walk.ts';
export { walkCsv, walkText } from '../evidence/walk-out.ts';
export { type MzqcRun, mzqcDocument } from '../formats/mzqc/index.ts';
export { queueLabel } from '../store/index.ts';
export {
  type AgainstReading,
  againstCsv,
  againstText,
  goodRuns,
  heldAgainst,
  type NamedReading,
} from './against.ts';
export { type Bench, type BenchOptions, benchFolder, openBench } from './bench.ts';
export { benchMethodSetup, keepSetup } from './bench-setup.ts';
export { type DemoBench, ensureDemoBench } from './demo-bench.ts';
export {
  type ExplainMore,
  type ExplainSource,
  explainKept,
  explainSession,
  keepExplainLog,
} from './explain.ts';
export { type IonAsked, type IonLevel, ionFrom } from './ion-level.ts';
export { maskFrom } from './mask.ts';
export { packagePath, version } from './package-root.ts';
export { type KeptPlan, keepPlan, planAndKeep } from './plan-and-keep.ts';
export { foldersWithRuns, isFolder, newestRunOf, runFilesOf, runFilesUnder } from './queue/list-files.ts';
export { localOffset, queueSvg, readingSvg, walkSvg } from './queue/pictures.ts';
export { queueAgainstEarlier, storedQueueAgainstEarlier } from './queue/queue-earlier.ts';
export { queueExport, queueExports } from './queue/queue-export.ts';
export type { ReadFile } from './queue/queue-file.ts';
export { type QueueProgress, type ReadQueue, readQueue } from './queue/read-queue.ts';
export { runMetrics } from './queue/run-metrics.ts';
export { loadSteps } from './queue/steps-file.ts';
export { type StoredQueue, storedComparison, storedQueue } from './queue/stored-queue.ts';
export { type Watch, type WatchOptions, watchFolder } from './queue/watch.ts';
export { type KeptReading, keepReading, readRunAndKeep, readRunStreamAndKeep } from './read-and-keep.ts';
export {
  fileName,
  type MaskSpan,
  type ReadOptions,
  type RunAsRead,
  readOneRun,
  readRunStream,
} from './read-one-run.ts';
export { type ReadTrace, type ReadTraceTask, readTrace } from './read-trace.ts';
export { keptReadingFile } from './reading-file.ts';
export {
  FILE_FAULTS,
  METERS,
  NOT_REHEARSED,
  REHEARSED_FAULTS,
  type Rehearsal,
  type RehearsalOptions,
  rehearse,
  TRACE_FORMATS,
  type TraceFormat,
} from './rehearse.ts';
export {
  addProof,
  addReading,
  loadSettleDocument,
  newSettleLog,
  openSettleLog,
  preparedSession,
  type SettleLog,
} from './settle.ts';
export {
  beginSettling,
  keepSettling,
  proveSettling,
  settleExport,
  settleFurther,
  settling,
  settlings,
} from './settle-bench.ts';
export { levelFromRun, levelFromStream, levelFromTrace } from './settle-levels.ts';
export { settleStart } from './settle-start.ts';
export {
  figuresOfReading,
  figuresOfRun,
  figuresOfTrace,
  type KeptPoint,
  keepWorkingPoint,
  pointObservations,
} from './settle-story.ts';
export {
  loadMethodSetup,
  loadObservations,
  loadSetupFile,
  SETUP_BYTES_MAX,
  setupFromText,
} from './setup-file.ts';
export { startingSetup } from './starting-setup.ts';
