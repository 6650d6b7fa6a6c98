/** Boxes, edge pairs, ripples and flicker in made series: found where they are, and nothing in hours without them. */
import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { boxFalls, edgePairs, flickerStretches, ripples } from './index.ts';

const STEP_S = 1.6;
const SD = 0.07;

function made(seed: number, n: number, shape: (t: number) => number): { t: number[]; x: number[] } {
  const stream = randomStream(seed, 'made series');
  const t = Array.from({ length: n }, (_, i) => STEP_S * i + 0.2 * stream.unit());
  return { t, x: t.map((time) => shape(time) + SD * stream.normal()) };
}

const SEARCH = { sign: -1, least_log: 0.12, sigmas: 5, longest_s: 180, beside_s: 30 } as const;

test('a fall of 30 % for 10 and for 60 s, its place and size', () => {
  for (const length_s of [10, 60]) {
    for (let seed = 1; seed <= 10; seed++) {
      const { t, x } = made(seed, 560, (time) => (time >= 400 && time < 400 + length_s ? Math.log(0.7) : 0));
      const { falls } = boxFalls(t, x, SEARCH);
      expect(falls).toHaveLength(1);
      expect(Math.abs(t[falls[0]!.first]! - 400)).toBeLessThan(0.4 * length_s + 2 * STEP_S);
      // Lengths are tried in steps of 1.4: edges missed by that thin the mean; noise of six scans adds a tenth.
      expect(Math.abs(falls[0]!.mean_log + Math.log(0.7))).toBeLessThan(0.13);
    }
  }
});

test('a fall of 25 % for a minute near the end of a run does not raise its own yardstick out of reach', () => {
  let seen = 0;
  for (let seed = 1; seed <= 10; seed++) {
    const { t, x } = made(seed, 560, (time) => (time >= 745 && time < 805 ? Math.log(0.75) : 0));
    if (boxFalls(t, x, { ...SEARCH, sigmas: 6 }).falls.some(({ first }) => Math.abs(t[first]! - 745) < 25))
      seen++;
  }
  expect(seen).toBe(10);
});

test('a fall of a minute keeps its length where a short deep one stands some minutes before', () => {
  for (let seed = 1; seed <= 5; seed++) {
    const { t, x } = made(seed, 800, (time) =>
      time >= 1030 && time < 1097 ? Math.log(0.65) : time >= 787 && time < 796 ? Math.log(0.06) : 0,
    );
    const fall = boxFalls(t, x, SEARCH).falls.find(({ first }) => t[first]! > 1000)!;
    expect(t[fall.past - 1]! - t[fall.first]!).toBeGreaterThan(50);
    expect(Math.abs(fall.mean_log + Math.log(0.65))).toBeLessThan(0.1);
  }
});

test('eleven hours of white scatter and of slow wandering hold no box; a step is none', () => {
  const { t, x } = made(77, 25_000, (time) => 0.2 * Math.sin(time / 300));
  expect(boxFalls(t, x, SEARCH).falls).toEqual([]);
  const step = made(3, 560, (time) => (time > 400 ? -0.5 : 0));
  expect(boxFalls(step.t, step.x, SEARCH).falls).toEqual([]);
});

test('a fall and its rise in steps that wander', () => {
  const stream = randomStream(4, 'steps');
  const t = Array.from({ length: 800 }, (_, i) => i);
  const step = t.map((i) => 0.04 * stream.normal() - 0.03 + (i === 300 ? -0.36 : i === 330 ? 0.36 : 0));
  const { pairs } = edgePairs(t, step, { least_log: 0.12, sigmas: 5.2, longest_s: 180 });
  expect(pairs.map((pair) => [pair.first, pair.past])).toEqual([[300, 330]]);
  expect(Math.abs(pairs[0]!.size_log - 0.36)).toBeLessThan(0.1);
  const lone = t.map((i) => 0.04 * stream.normal() + (i === 300 ? -0.36 : 0));
  expect(edgePairs(t, lone, { least_log: 0.12, sigmas: 5.2, longest_s: 180 }).pairs).toEqual([]);
});

test('a ripple of 10 % at scatter of 7 %: period and amplitude; none in white scatter', () => {
  const { t, x } = made(11, 560, (time) =>
    time > 300 && time < 600 ? 0.1 * Math.sin((2 * Math.PI * time) / 9) : 0,
  );
  const found = ripples(t, x, 0.1);
  expect(found.length).toBeGreaterThanOrEqual(1);
  expect(Math.abs(found[0]!.period_s / 9 - 1)).toBeLessThan(0.02);
  expect(found[0]!.amplitude).toBeGreaterThan(0.04);
  for (let seed = 20; seed < 32; seed++) {
    const white = made(seed, 560, () => 0);
    expect(ripples(white.t, white.x, 0.1)).toEqual([]);
  }
});

test('in filtered scatter a ripple where the filter is quiet is found by what the series usually shows there', () => {
  // Second differences pass little of slow changes: of a ripple of ten samples a tenth of what scatter has at its fastest.
  const filtered = (seed: number, shape: (i: number) => number): { t: number[]; x: number[] } => {
    const { t, x } = made(seed, 1200, (time) => shape(time / STEP_S));
    return { t: t.slice(1, -1), x: t.slice(1, -1).map((_, i) => x[i + 1]! - (x[i]! + x[i + 2]!) / 2) };
  };
  let seen = 0;
  let plain = 0;
  for (let seed = 1; seed <= 8; seed++) {
    const rippled = filtered(seed, (i) => (i > 400 && i < 640 ? 0.06 * Math.sin((2 * Math.PI * i) / 8) : 0));
    const near = ({ period_s }: { period_s: number }): boolean =>
      Math.abs(period_s / (8 * STEP_S) - 1) < 0.03;
    if (ripples(rippled.t, rippled.x, 0.1, { filtered: true }).some(near)) seen++;
    if (ripples(rippled.t, rippled.x, 0.1).some(near)) plain++;
    const quiet = filtered(100 + seed, () => 0);
    expect(ripples(quiet.t, quiet.x, 0.1, { filtered: true, least_samples: 160 })).toEqual([]);
  }
  expect(seen).toBeGreaterThanOrEqual(7);
  expect(plain).toBeLessThanOrEqual(1);
});

test('a ripple faster than even scans is folded, and the reading of it names the faster one', () => {
  const stream = randomStream(9, 'folded');
  const t = Array.from({ length: 300 }, (_, i) => i);
  const x = t.map((time) => 0.1 * Math.sin((2 * Math.PI * time) / 0.8) + 0.05 * stream.normal());
  const found = ripples(t, x, 0.1);
  expect(found).toHaveLength(1);
  // 1.25 Hz seen every second stands at 0.25 Hz.
  expect(Math.abs(found[0]!.period_s - 4)).toBeLessThan(0.05);
  expect(found[0]!.aliases_s.some((alias) => Math.abs(alias - 0.8) < 0.01)).toBe(true);
});

test('flicker of a quarter of the level for a minute, none in white scatter', () => {
  const stream = randomStream(2, 'telegraph');
  const { t, x } = made(31, 560, () => 0);
  const none = flickerStretches(
    t,
    x,
    x.map(() => 0),
  );
  expect(none).toEqual([]);
  const on = x.map((v, i) => (t[i]! > 400 && t[i]! < 470 && stream.unit() < 0.5 ? v - 0.5 : v));
  const found = flickerStretches(
    t,
    on,
    on.map(() => 0),
  );
  expect(found.length).toBeGreaterThanOrEqual(1);
  expect(t[found[0]!.first]!).toBeLessThan(410);
  expect(t[found[0]!.past - 1]!).toBeGreaterThan(455);
});
