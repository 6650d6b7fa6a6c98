/**
 * Where the level changes from one plateau to another, on the slow copy: a plateau is followed by a running mean, and ends where three pieces
 * in a row leave it on one side. Its height is a median over the inside near the change, carried to the change along the slope both sides share, so a
 * slow drift or a pump's ripple cancels in the ratio of neighbours. Finer than some pieces (1 ms at best) nothing is told; slow wander makes no changes.
 */
import { median } from '../../core/numeric/robust.ts';
import type { SlowLevel } from './slow-level.ts';

export interface LevelChange {
  at_s: number;
  /** Heights on both sides, near the change [A]. */
  before: number;
  after: number;
  /** How long both plateaus last [s], and the way between them. */
  before_s: number;
  after_s: number;
  between_s: number;
  /** Middle scatter inside the pieces of both. */
  scatter_before: number;
  scatter_after: number;
  /** Wander of the pieces inside both plateaus, their noise taken out, over the height of the change. */
  wander: number;
}

/** A piece leaves its plateau by so much: in its noise, and as a share of the level. */
const LEAVES_NOISE = 6;
const LEAVES_SHARE = 0.055;
const LEAST_A = 0.8e-9;
const IN_A_ROW = 3;
/** The running mean forgets over so many pieces. */
const MEMORY = 20;
/** Pieces of a plateau at least, and those near a change that tell its height. */
const LEAST_PIECES = 5;
const NEAR = 40;
/** Smaller changes are wander. */
const LEAST_CHANGE = 0.07;
const LONGEST_WAY_S = 0.12;
/** A slope counts from so many of its own errors, and from so many pieces beyond what it and the two heights take. */
const SURE_SLOPE = 4;
const LEAST_FREE = 20;

interface Plateau {
  from: number;
  past: number;
}

export function levelChanges(level: SlowLevel): LevelChange[] {
  const plateaus = plateausOf(level);
  const changes: LevelChange[] = [];
  for (let k = 1; k < plateaus.length; k++) {
    const a = plateaus[k - 1]!;
    const b = plateaus[k]!;
    const between_s = level.start_s[b.from]! - level.start_s[a.past - 1]!;
    if (between_s > LONGEST_WAY_S) continue;
    const [fromA, pastA] = inside(a, 'end');
    const [fromB, pastB] = inside(b, 'start');
    const slope = commonSlope(level.mean, fromA, pastA, fromB, pastB);
    const at = (b.from + a.past - 1) / 2;
    const before = median(level.mean.subarray(fromA, pastA)) + slope * (at - (fromA + pastA - 1) / 2);
    const after = median(level.mean.subarray(fromB, pastB)) + slope * (at - (fromB + pastB - 1) / 2);
    if (Math.abs(after - before) < LEAST_CHANGE * Math.min(Math.abs(before), Math.abs(after))) continue;
    changes.push({
      at_s: (level.start_s[b.from]! + level.start_s[a.past - 1]!) / 2,
      before,
      after,
      before_s: (a.past - a.from) / level.rate_Hz,
      after_s: (b.past - b.from) / level.rate_Hz,
      between_s,
      scatter_before: median(level.scatter.subarray(fromA, pastA)),
      scatter_after: median(level.scatter.subarray(fromB, pastB)),
      wander:
        Math.max(wanderOf(level, fromA, pastA), wanderOf(level, fromB, pastB)) / Math.abs(after - before),
    });
  }
  return changes;
}

/** A fifth at each end belongs to the change through the meter. */
function inside({ from, past }: Plateau, end: 'start' | 'end'): [number, number] {
  const edge = Math.min(Math.floor((past - from) / 4), 8);
  const a = from + edge;
  const b = past - Math.max(edge, past - from > 8 ? 1 : 0);
  return end === 'start' ? [a, Math.min(b, a + NEAR)] : [Math.max(a, b - NEAR), b];
}

/** Slope of both sides together, a piece; 0 where it is within its error. A pump's swing then moves neither height. */
function commonSlope(mean: Float64Array, fromA: number, pastA: number, fromB: number, pastB: number): number {
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const [from, past] of [
    [fromA, pastA],
    [fromB, pastB],
  ] as const) {
    let sum = 0;
    for (let k = from; k < past; k++) sum += mean[k]!;
    const middle = sum / (past - from);
    for (let k = from; k < past; k++) {
      const x = k - (from + past - 1) / 2;
      const y = mean[k]! - middle;
      xx += x * x;
      xy += x * y;
      yy += y * y;
    }
  }
  const free = pastA - fromA + pastB - fromB - 3;
  if (free < LEAST_FREE || xx === 0) return 0;
  const slope = xy / xx;
  const error = Math.sqrt(Math.max(0, yy - slope * xy) / free / xx);
  return Math.abs(slope) > SURE_SLOPE * error ? slope : 0;
}

function wanderOf({ mean, noiseAt }: SlowLevel, from: number, past: number): number {
  const n = past - from;
  if (n < 3) return 0;
  let sum = 0;
  for (let k = from; k < past; k++) sum += mean[k]!;
  let squares = 0;
  for (let k = from; k < past; k++) squares += (mean[k]! - sum / n) ** 2;
  return Math.sqrt(Math.max(0, squares / (n - 1) - noiseAt(from) ** 2));
}

function plateausOf({ mean, noiseAt }: SlowLevel): Plateau[] {
  const plateaus: Plateau[] = [];
  let from = 0;
  let middle = mean[0] ?? 0;
  for (let k = 1; k <= mean.length; k++) {
    const leaves = Math.max(LEAVES_NOISE * noiseAt(k - 1), LEAVES_SHARE * Math.abs(middle), LEAST_A);
    let side = 0;
    if (k < mean.length) {
      side = Math.sign(mean[k]! - middle);
      for (let j = k; j < k + IN_A_ROW && side !== 0; j++)
        if (j < mean.length && side * (mean[j]! - middle) < leaves * (j === k ? 1 : 0.8)) side = 0;
    }
    if (k < mean.length && side === 0) {
      middle += (mean[k]! - middle) / Math.min(MEMORY, k - from + 1);
      continue;
    }
    if (k - from >= LEAST_PIECES) plateaus.push({ from, past: k });
    from = k;
    middle = mean[k] ?? 0;
  }
  return plateaus;
}
