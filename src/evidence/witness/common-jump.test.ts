import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { RING, rippleInJumps } from './common-jump.ts';
import { runWitnesses } from './run-witnesses.ts';

interface Others {
  scans?: number;
  ions?: number;
  /** So many of the ions do not jump. */
  still?: number;
  /** The scans from `at` on come so much later [s]. */
  pause_s?: number;
}

/** Ions that elute each on its own front, scatter by 4 % each, and jump together before scan `at`. */
function jumps(
  at: number,
  factor: number,
  { scans = 60, ions = 30, still = 0, pause_s = 0 }: Others = {},
): Float32Array {
  const stream = randomStream(11, `ions ${at} ${factor}`);
  const slope = Array.from({ length: ions }, () => 0.15 * stream.normal());
  const witnesses = runWitnesses();
  for (let i = 0; i < scans; i++) {
    const mz = Float64Array.from({ length: ions }, (_, j) => 150 + 21.3 * j);
    const intensity = Float64Array.from(
      mz,
      (_, j) =>
        1e5 * Math.exp(slope[j]! * (i - 30) + 0.04 * stream.normal()) * (i >= at && j >= still ? factor : 1),
    );
    witnesses.see({
      row: i,
      mz,
      intensity,
      profile: false,
      time_s: 1.3 * i + (i >= at ? pause_s : 0),
      injection_ms: Number.NaN,
      analyser: 0,
      polarity: 1,
      window_low: 100,
      window_high: 900,
    });
  }
  return witnesses.finish().streams[0]!.jump;
}

/** Thirty ions of 4 % and the filter's 1.7 make 1.3 %; four of them and the floor of the weights. */
const NEAR = 0.06;

test('a common fall is measured on top of thirty different fronts, and rings two scans off', () => {
  const jump = jumps(30, 0.7);
  expect(Math.abs(jump[30]! - Math.log(0.7))).toBeLessThan(NEAR);
  expect(Math.abs(jump[32]! + RING * Math.log(0.7))).toBeLessThan(NEAR);
  const rest = [...jump].filter((value, i) => Number.isFinite(value) && Math.abs(i - 30) > 3);
  expect(rest.length).toBeGreaterThan(40);
  expect(Math.max(...rest.map(Math.abs))).toBeLessThan(NEAR);
});

test('too few ions, and the ends of a run, have no jump', () => {
  expect([...jumps(30, 0.5, { ions: 3 })].every(Number.isNaN)).toBe(true);
  const jump = jumps(30, 0.5);
  expect([0, 1, 2, 58, 59].map((i) => Number.isNaN(jump[i]!))).toEqual([true, true, true, true, true]);
  expect(Number.isFinite(jump[3]!)).toBe(true);
});

test('where three ions in ten stand still the rest is elution: what all share is told', () => {
  const all = jumps(30, 0.4)[30]!;
  expect(Math.abs(all - Math.log(0.4))).toBeLessThan(NEAR);
  // A tenth is no denial: some ions always go their own way.
  expect(jumps(30, 0.4, { still: 3 })[30]!).toBeLessThan(0.8 * Math.log(0.4));
  // Each ion is given its own scatter, so that weak ones leave something.
  expect(Math.abs(jumps(30, 0.4, { still: 9 })[30]!)).toBeLessThan(0.45 * Math.abs(Math.log(0.4)));
});

test('no jump from scans on both sides of a pause', () => {
  const jump = jumps(30, 0.4, { pause_s: 60 });
  expect([28, 29, 30, 31, 32].every((i) => Number.isNaN(jump[i]!))).toBe(true);
  expect([27, 33].every((i) => Number.isFinite(jump[i]!))).toBe(true);
});

test('a ripple of two to five intervals passes a jump, that at the pace of the scans does not', () => {
  for (const intervals of [2.5, 4, 5]) expect(rippleInJumps(intervals)).toBeGreaterThan(1.5);
  // 2.59 = 2 x 0.7071 x (1.08 + 0.33 + 0.42), by hand from the weights at even times.
  expect(Math.abs(rippleInJumps(4) - 2.59)).toBeLessThan(0.02);
  expect(rippleInJumps(1)).toBeLessThan(1e-9);
  expect(rippleInJumps(30)).toBeLessThan(0.1);
});
