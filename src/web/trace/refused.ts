/** A refused answer of the trace worker in lines a person can act on. */
import { faultLine } from '../../core/errors.ts';
import { pageWords } from './page-words.ts';
import type { Refused } from './trace-worker.ts';

export interface RefusedWords {
  stopped?: string;
  /** What stands before a trouble that is no fault of the input. */
  before?: string;
}

export function refusedLines(
  refused: Refused,
  { stopped = 'Stopped. Nothing was kept.', before = 'Not read: ' }: RefusedWords = {},
): string[] {
  if ('faults' in refused) return refused.faults.map((fault) => pageWords(faultLine(fault)));
  return ['stopped' in refused ? stopped : `${before}${refused.trouble}`];
}
