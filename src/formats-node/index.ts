export { inflate } from './inflate.ts';
export { type ReadOptions, type ReadRun, readRunFile, readRunStream } from './read-run.ts';
