/** Lasting changes: found where they are; slow drift, a sag that comes back and hours of scatter hold none. */
import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { levelSteps } from './index.ts';

const STEP_S = 1.6;
const SD = 0.07;
const OPTIONS = { least_log: 0.16, sigmas: 6 };

function made(seed: number, n: number, shape: (t: number) => number): { t: number[]; x: number[] } {
  const stream = randomStream(seed, 'steps');
  const t = Array.from({ length: n }, (_, i) => STEP_S * i + 0.2 * stream.unit());
  return { t, x: t.map((time) => shape(time) + SD * stream.normal()) };
}

test('a fall and a rise of 30 % that stay: the moment and the size', () => {
  for (const sign of [-1, 1]) {
    for (let seed = 1; seed <= 8; seed++) {
      const { t, x } = made(seed, 560, (time) => (time >= 400 ? sign * 0.357 : 0));
      const found = levelSteps(t, x, OPTIONS);
      expect(found).toHaveLength(1);
      // Two scans: the edge of a mean over forty.
      expect(Math.abs(t[found[0]!.at]! - 400)).toBeLessThan(3 * STEP_S);
      // Six standard errors of a difference of means over 37 scans.
      expect(Math.abs(found[0]!.size_log - sign * 0.357)).toBeLessThan(6 * SD * Math.sqrt(2 / 37));
    }
  }
});

test('no step: a drift of 50 % in ten minutes, a sag of a minute, eleven hours of scatter', () => {
  const drift = made(3, 560, (time) => (-0.7 * time) / 600);
  expect(levelSteps(drift.t, drift.x, OPTIONS)).toEqual([]);
  const sag = made(4, 560, (time) => (time > 400 && time < 460 ? -0.5 : 0));
  expect(levelSteps(sag.t, sag.x, OPTIONS)).toEqual([]);
  const long = made(5, 25_000, () => 0);
  expect(levelSteps(long.t, long.x, OPTIONS)).toEqual([]);
});
