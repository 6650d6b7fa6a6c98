import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { logChance, lombScargle } from './lomb-scargle.ts';

/** Rounding of sums over some hundred samples. */
const ROUNDING = 1e-9;

test('even times: the classical periodogram, 2 |sum y e^-iwt|^2 / (n sum y^2), at every Fourier frequency', () => {
  const n = 64;
  const stream = randomStream(3, 'periodogram');
  const y = Float64Array.from({ length: n }, () => stream.normal());
  const mean = y.reduce((sum, v) => sum + v, 0) / n;
  const yy = y.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  const t = Float64Array.from({ length: n }, (_, i) => 0.5 * i + 7);
  const step = 1 / (0.5 * n);
  const { power } = lombScargle(t, y, step, step, n / 2 - 1);
  expect(power).toHaveLength(31);
  power.forEach((p, k) => {
    let re = 0;
    let im = 0;
    for (let i = 0; i < n; i++) {
      const angle = (2 * Math.PI * (k + 1) * i) / n;
      re += (y[i]! - mean) * Math.cos(angle);
      im += (y[i]! - mean) * Math.sin(angle);
    }
    expect(Math.abs(p - (2 * (re * re + im * im)) / (n * yy))).toBeLessThan(ROUNDING);
  });
});

test('uneven times: a sinusoid on a constant is fitted exactly, amplitude and all of the variance', () => {
  const stream = randomStream(5, 'uneven');
  const t: number[] = [];
  for (let i = 0; i < 90; i++) t.push((t.at(-1) ?? 0) + 0.4 + 1.3 * stream.unit());
  const f = 0.137;
  const y = t.map((time) => 11 + 0.25 * Math.sin(2 * Math.PI * f * time + 0.8));
  const { power, amplitude } = lombScargle(t, y, f - 0.001 * 100, 0.001, 201);
  const best = power.indexOf(Math.max(...power));
  expect(best).toBe(100);
  expect(Math.abs(power[100]! - 1)).toBeLessThan(ROUNDING);
  expect(Math.abs(amplitude[100]! - 0.25)).toBeLessThan(ROUNDING);
});

test('white noise exceeds a power as often as the closed form says', () => {
  const stream = randomStream(8, 'white');
  const n = 40;
  const t = Float64Array.from({ length: n }, (_, i) => i + 0.3 * stream.unit());
  const limit = 0.12;
  const runs = 3000;
  let above = 0;
  for (let k = 0; k < runs; k++) {
    const y = Float64Array.from({ length: n }, () => stream.normal());
    if (lombScargle(t, y, 0.21, 1, 1).power[0]! > limit) above++;
  }
  const expected = Math.exp(logChance(limit, n));
  // Four standard errors of the count.
  expect(Math.abs(above / runs - expected)).toBeLessThan(4 * Math.sqrt(expected / runs));
});
