/**
 * The hypotheses and their priors: each fault alone, something outside the catalogue, and every pair of faults at once
 * (prior in proportion to the product of both). Beliefs are kept as logarithms.
 */
import { inputError } from '../errors.ts';
import type { Fault } from './types.ts';

/** Before anything is seen. Judgement: no count of bench faults exists in the open. */
export const OUTSIDE_PRIOR = 0.1;
export const TWO_FAULTS_PRIOR = 0.05;

export interface Hypotheses {
  faults: readonly Fault[];
  /** Indices of both faults of each pair. */
  pairs: readonly (readonly [number, number])[];
  /** Faults, then outside, then pairs; adds to 1. */
  prior: Float64Array;
}

export function hypothesesOf(
  faults: readonly Fault[],
  history: Readonly<Record<string, number>> = {},
): Hypotheses {
  if (faults.length < 2) throw inputError('invalid', 'catalogue', `${faults.length} faults`, 'two or more');
  for (const [id, factor] of Object.entries(history)) {
    if (!faults.some((fault) => fault.id === id))
      throw inputError('unknown', 'fault', id, 'a fault of the catalogue');
    if (!(factor > 0 && Number.isFinite(factor)))
      throw inputError('out of range', `history factor of ${id}`, `${factor}`, 'a positive number');
  }
  const weight = faults.map((fault) => fault.prior * (history[fault.id] ?? 1));
  const total = weight.reduce((sum, w) => sum + w, 0);
  const pairs: [number, number][] = [];
  let pairTotal = 0;
  for (let i = 0; i < faults.length; i++)
    for (let j = i + 1; j < faults.length; j++) {
      pairs.push([i, j]);
      pairTotal += weight[i]! * weight[j]!;
    }
  const single = 1 - OUTSIDE_PRIOR - TWO_FAULTS_PRIOR;
  const prior = new Float64Array(faults.length + 1 + pairs.length);
  weight.forEach((w, i) => {
    prior[i] = (single * w) / total;
  });
  prior[faults.length] = OUTSIDE_PRIOR;
  pairs.forEach(([i, j], k) => {
    prior[faults.length + 1 + k] = (TWO_FAULTS_PRIOR * weight[i]! * weight[j]!) / pairTotal;
  });
  return { faults, pairs, prior };
}
