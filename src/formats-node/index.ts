export { inflate } from './inflate.ts';
export { type ReadOptions, type ReadRun, readRunFile, readRunStream } from './read-run.ts';
export { type ReadTraceOptions, readTraceFile, traceBytes } from './trace-file.ts';
