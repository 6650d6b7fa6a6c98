import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { RING } from './common-jump.ts';
import { runWitnesses } from './run-witnesses.ts';

/** Ions that elute each on its own front, scatter by 4 % each, and jump together before scan `at`. */
function jumps(at: number, factor: number, scans = 60, ions = 30): Float32Array {
  const stream = randomStream(11, `ions ${at} ${factor}`);
  const slope = Array.from({ length: ions }, () => 0.15 * stream.normal());
  const witnesses = runWitnesses();
  for (let i = 0; i < scans; i++) {
    const mz = Float64Array.from({ length: ions }, (_, j) => 150 + 21.3 * j);
    const intensity = Float64Array.from(
      mz,
      (_, j) => 1e5 * Math.exp(slope[j]! * (i - 30) + 0.04 * stream.normal()) * (i >= at ? factor : 1),
    );
    witnesses.see({
      row: i,
      mz,
      intensity,
      profile: false,
      time_s: 1.3 * i,
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
  expect([...jumps(30, 0.5, 60, 3)].every(Number.isNaN)).toBe(true);
  const jump = jumps(30, 0.5);
  expect([0, 1, 2, 58, 59].map((i) => Number.isNaN(jump[i]!))).toEqual([true, true, true, true, true]);
  expect(Number.isFinite(jump[3]!)).toBe(true);
});
