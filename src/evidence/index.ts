export { readRun } from './read-run.ts';
export { readingCsv } from './reading-csv.ts';
export { readingText } from './reading-text.ts';
export type { RunEvent, RunEventKind, RunGroup, RunReading, VerdictGrade } from './run-reading.ts';
