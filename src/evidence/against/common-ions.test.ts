import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { passingRatio, standingRatio } from './common-ions.ts';
import type { IonCurve, Passing } from './ions-in-run.ts';
import { sameTimes } from './run-times.ts';

const STEPS = 60;
const grid = { start_s: 0, step_s: 10, steps: STEPS };
const SHARE = 10e-6;

function curves(log: (ion: number, step: number) => number): IonCurve[] {
  return Array.from({ length: 20 }, (_, ion) => {
    const values = Float64Array.from({ length: STEPS }, (_, step) => log(ion, step));
    return { mz: 400 + 20 * ion, seen: values.filter(Number.isFinite).length, log: values, passages: [] };
  });
}

test('ions that differ by their own constants give a flat ratio, also where half of them is missing', () => {
  const stream = randomStream(2, 'offsets');
  const own = Array.from({ length: 20 }, (_, ion) => (ion % 2 === 0 ? 1.5 : -1.5) + 0.1 * stream.normal());
  const ours = curves((ion, step) => (ion % 2 === 0 && step >= 35 ? Number.NaN : 10 + own[ion]!));
  const theirs = curves(() => 10);
  const ratio = standingRatio(ours, theirs, SHARE, grid, grid, sameTimes())!;
  expect(ratio.ions).toBe(20);
  for (const value of ratio.log) expect(Math.abs(value)).toBeLessThan(1e-9);
});

test('what all do together is the ratio, whatever each does by itself', () => {
  const stream = randomStream(3, 'scatter');
  const course = (step: number): number => (step < 40 ? 0 : -0.5);
  const ours = curves((ion, step) => 10 + ion / 5 + course(step) + 0.1 * stream.normal());
  const theirs = curves(() => 10);
  const ratio = standingRatio(ours, theirs, SHARE, grid, grid, sameTimes())!;
  // Four errors of a median of 20 values that scatter by 0.1, for 60 steps.
  for (let i = 0; i < STEPS; i++) expect(Math.abs(ratio.log[i]! - course(i))).toBeLessThan(0.12);
  // The error it states is that of such a median, 0.028.
  expect(Math.abs(ratio.error.reduce((sum, value) => sum + value, 0) / STEPS / 0.028 - 1)).toBeLessThan(0.25);
});

test('passing ions give the ratio of their areas at their time', () => {
  const list = (factor: (t: number) => number): Passing[] =>
    Array.from({ length: 400 }, (_, i) => {
      const time_s = (i * 37) % 600;
      return { mz: 400 + i, time_s, area_log: 8 + (i % 7) / 3 + Math.log(factor(time_s)) };
    });
  const half = passingRatio(
    list((t) => (t < 300 ? 1 : 0.5)),
    list(() => 1),
    SHARE,
    grid,
    sameTimes(),
  )!;
  expect(half.ions).toBe(400);
  const at = (step: number): number => Math.exp(half.log[step]! + half.middle);
  expect(at(10)).toBeCloseTo(1, 6);
  expect(at(50)).toBeCloseTo(0.5, 6);
});

test('too few ions give none', () => {
  const few = curves(() => 10).slice(0, 5);
  expect(standingRatio(few, few, SHARE, grid, grid, sameTimes())).toBeUndefined();
  expect(passingRatio([], [], SHARE, grid, sameTimes())).toBeUndefined();
});
