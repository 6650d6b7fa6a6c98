/**
 * What is published for the same purpose, computed from the level of one run: counts of jumps and falls of ten times
 * between neighbours (MS:4000097, MS:4000098), log ratios of successive quantiles of the level (MS:4000187) and of the
 * absolute changes between neighbours (MS:4000186), and the plain relative standard deviation of the level.
 */
import { quantile } from '../../src/core/numeric/robust.ts';

export const RIVALS = [
  '10x jumps + falls',
  'level quantile ratios',
  'level-change ratios',
  'level RSD',
] as const;

export function rivalValues(level: ArrayLike<number>): number[][] {
  let jumps = 0;
  const changes: number[] = [];
  for (let i = 1; i < level.length; i++) {
    const ratio = level[i]! / level[i - 1]!;
    if (ratio > 10 || ratio < 0.1) jumps++;
    changes.push(Math.abs(level[i]! - level[i - 1]!));
  }
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < level.length; i++) {
    sum += level[i]!;
    squares += level[i]! * level[i]!;
  }
  const mean = sum / level.length;
  return [
    [jumps],
    ratios(level),
    ratios(changes),
    [Math.sqrt(Math.max(0, squares / level.length - mean * mean)) / mean],
  ];
}

function ratios(values: ArrayLike<number>): number[] {
  const q = [0.25, 0.5, 0.75, 1].map((share) => Math.log(Math.max(1e-9, quantile(values, share))));
  return [q[1]! - q[0]!, q[2]! - q[1]!, q[3]! - q[2]!];
}
