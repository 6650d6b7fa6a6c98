/** Jumps of the ions of two kinds of scans: fall and rise judged together, edges that nothing undoes alone. */
import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { type JointSeries, jointPairs, leastPair } from './index.ts';

const OPTIONS = {
  least_log: 0.19,
  pair: 5.3,
  edge: 2,
  lone: 4.1,
  longest_s: 180,
  match: 1.5,
  within: 3,
  ring: { samples: 3, share: 0.8 },
};
const FALL = Math.log(0.7);
const SEEDS = 40;
/** Four jumps of 4.5, 3 and 3 sigma and one that knows nothing stand 6 sigma out together: one in fifteen falls short by chance, and some edges by another sample. */
const LEAST_FOUND = 0.85;
const BOTH = 0.1;

interface Made {
  scatter: number;
  /** Of a jump, part of its scatter: as in the real run the sizes were set on. */
  error?: number;
  at?: Record<number, number>;
  /** Samples whose ions are too few. */
  silent?: number[];
  /** The error of the jump there. */
  unsure?: Record<number, number>;
}

function made(
  seed: number,
  of: string,
  off_s: number,
  { scatter, error = 0.35 * scatter, at = {}, silent = [], unsure = {} }: Made,
): JointSeries {
  const stream = randomStream(seed, of);
  const n = 300;
  const value = Float64Array.from(
    { length: n },
    (_, i) => (scatter + (unsure[i] ?? 0)) * stream.normal() + (at[i] ?? 0),
  );
  const errors = Float64Array.from({ length: n }, (_, i) => unsure[i] ?? error);
  for (const i of silent) value[i] = Number.NaN;
  return {
    time_s: Float64Array.from({ length: n }, (_, i) => 1.3 * i + off_s),
    log: Float64Array.from({ length: n }, () => 0.3 * stream.normal()),
    jump: { value, error: errors },
  };
}

test('a sag of 30 %: found where one kind knows nothing at an edge, which each edge by itself would not show', () => {
  let seen = 0;
  let place = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const one = made(seed, 'one', 0, { scatter: 0.085, at: { 120: FALL, 136: -FALL } });
    const other = made(seed, 'other', 0.65, {
      scatter: 0.1,
      at: { 136: -FALL },
      silent: [119, 120],
    });
    const { falls } = jointPairs(one, other, OPTIONS);
    if (falls.length > 0) seen++;
    if (falls[0]?.first === 120 && falls[0].past === 136) {
      place++;
      expect(Math.abs(falls[0].size_log + FALL)).toBeLessThan(3 * BOTH);
    }
  }
  expect(seen).toBeGreaterThanOrEqual(LEAST_FOUND * SEEDS);
  expect(place).toBeGreaterThanOrEqual(0.9 * seen);
});

test('the least fall told is shown by half of the places, a fifth more by most', () => {
  const found = { least: 0, more: 0 };
  for (let seed = 1; seed <= SEEDS; seed++) {
    const quiet = (of: string, off_s: number, scatter: number, at = {}) =>
      made(seed, of, off_s, { scatter, at });
    const least = leastPair(quiet('one', 0, 0.08), quiet('other', 0.65, 0.1), OPTIONS)(13);
    for (const [name, size] of [
      ['least', least],
      ['more', 1.2 * least],
    ] as const) {
      const at = { 120: -size, 130: size };
      const { falls } = jointPairs(quiet('one', 0, 0.08, at), quiet('other', 0.65, 0.1, at), OPTIONS);
      if (falls.some(({ first }) => Math.abs(first - 120) <= 1)) found[name]++;
    }
  }
  // Three sigma of a share of a half of the places are 9.5.
  expect(Math.abs(found.least - SEEDS / 2)).toBeLessThan(9.5);
  expect(found.more).toBeGreaterThanOrEqual(0.8 * SEEDS);
});

test('what one kind knows well and denies is no fall, however far the other stands out', () => {
  for (let seed = 1; seed <= SEEDS; seed++) {
    const one = made(seed, 'one', 0, { scatter: 0.08, at: { 120: -0.9, 136: 0.9 } });
    const still = made(seed, 'other', 0.65, { scatter: 0.09 });
    expect(jointPairs(one, still, OPTIONS)).toEqual({ falls: [], lone: [] });
  }
});

test('scatter alone: under one false fall in a day of such scans', () => {
  let falls = 0;
  const runs = 400;
  for (let seed = 1; seed <= runs; seed++) {
    const one = made(seed, 'quiet one', 0, { scatter: 0.08, error: 0.03 });
    falls += jointPairs(one, made(seed, 'quiet other', 0.65, { scatter: 0.1, error: 0.06 }), OPTIONS).falls
      .length;
  }
  const days = (runs * 300 * 1.3) / 86_400;
  // 1.8 days hold more than three one time in seven at one a day, one time in fifty at 0.6.
  expect(falls).toBeLessThanOrEqual(3);
  expect(days).toBeGreaterThan(1.5);
});

test('a step that nothing undoes is lone, and no later rise by chance makes it a sag', () => {
  let lone = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const one = made(seed, 'one', 0, { scatter: 0.08, at: { 150: Math.log(0.5) } });
    const other = made(seed, 'other', 0.65, { scatter: 0.1, at: { 150: Math.log(0.5) } });
    const found = jointPairs(one, other, OPTIONS);
    if (found.lone.some(({ at, size_log }) => at === 150 && size_log < -0.45)) lone++;
  }
  expect(lone).toBeGreaterThanOrEqual(LEAST_FOUND * SEEDS);
});

test('few ions at the moment, and so a wide error: the jump counts by it', () => {
  const unsure = { 150: 0.5 };
  let lone = 0;
  for (let seed = 1; seed <= 10; seed++) {
    const one = made(seed, 'one', 0, { scatter: 0.08, at: { 150: FALL }, unsure });
    const other = made(seed, 'other', 0.65, { scatter: 0.1, unsure });
    lone += jointPairs(one, other, OPTIONS).lone.filter(({ at }) => at === 150).length;
  }
  expect(lone).toBe(0);
});

test('beside a pause the levels have no jump: what stands beyond it is no slope', () => {
  const n = 200;
  const time = (off_s: number): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => 1.3 * i + off_s + (i >= 100 ? 60 : 0));
  const noise = randomStream(5, 'levels');
  const level = (off_s: number): JointSeries => ({
    time_s: time(off_s),
    log: Float64Array.from({ length: n }, (_, i) => 0.02 * noise.normal() + (i >= 100 ? -1 : 0)),
    jump: { value: new Float64Array(n).fill(Number.NaN), error: new Float64Array(n).fill(Number.NaN) },
  });
  expect(jointPairs(level(0), level(0.65), OPTIONS)).toEqual({ falls: [], lone: [] });
});
