/**
 * One thing a measurement says about a question of the fault catalogue, with the sentence of where it comes from. A reader
 * that may be wrong spreads the rest of its belief evenly over the other answers, which moves no cause at all.
 */
import { OBSERVABLES, type Observation } from '../../core/causes/index.ts';

export interface Finding extends Observation {
  /** What was seen and where, as a person reads it. */
  sentence: string;
}

/** What a question still lacks, and what would answer it. */
export interface Missing {
  observable: string;
  sentence: string;
}

/** `share` of belief in one outcome (or a list of them by weight), the rest even over all outcomes. */
export function finding(
  observable: string,
  outcomes: string | Readonly<Record<string, number>>,
  share: number,
  from: string,
  sentence: string,
): Finding {
  const known = OBSERVABLES.find(({ id }) => id === observable)?.outcomes ?? [];
  const weights = typeof outcomes === 'string' ? { [outcomes]: 1 } : outcomes;
  const total = Object.values(weights).reduce((sum, weight) => sum + weight, 0);
  const sure = Math.min(1, Math.max(0, share));
  const outcome = Object.fromEntries(
    known.map(({ id }) => [id, (sure * (weights[id] ?? 0)) / total + (1 - sure) / known.length]),
  );
  return { observable, outcome, from, sentence };
}
