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
