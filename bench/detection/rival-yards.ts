/** When the published metrics alarm: their middle, scatter and limit from surrogates of the same run. */
import { madSigma, median } from '../../src/core/numeric/robust.ts';
import { RIVALS } from './rivals.ts';

export interface RivalYard {
  middle: number[];
  sigma: number[];
  limit: number;
}

/**
 * Limits of the published metrics: they expect `expected` (values of the good run), scatter as on the surrogate pieces, and
 * alarm beyond what `allowed` of the pieces exceed. With `clean` (values of the untouched run) the limit is raised until
 * that run is no alarm: knowledge no one has.
 */
export function rivalYards(
  pieces: readonly number[][][],
  allowed: number,
  expected?: readonly number[][],
  clean?: readonly number[][],
): RivalYard[] {
  return RIVALS.map((_, r) => {
    const parts = pieces[0]![r]!.length;
    const usual = Array.from({ length: parts }, (_, c) => median(pieces.map((run) => run[r]![c]!)));
    const sigma = usual.map((_, c) => Math.max(1e-6, madSigma(pieces.map((run) => run[r]![c]!))));
    const distances = pieces.map((run) => apart(run[r]!, usual, sigma)).sort((a, b) => b - a);
    const own = distances[Math.min(allowed, distances.length - 1)]!;
    const middle = expected ? [...expected[r]!] : usual;
    return { middle, sigma, limit: clean ? Math.max(own, apart(clean[r]!, middle, sigma)) : own };
  });
}

/** `values` as rivalValues gives them. */
export function rivalsAlarm(values: readonly number[][], yards: readonly RivalYard[]): boolean[] {
  return yards.map(({ middle, sigma, limit }, r) => apart(values[r]!, middle, sigma) > limit * (1 + 1e-9));
}

function apart(values: readonly number[], middle: readonly number[], sigma: readonly number[]): number {
  return Math.max(...values.map((value, c) => Math.abs(value - middle[c]!) / sigma[c]!));
}
