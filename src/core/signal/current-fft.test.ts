import FFT from 'fft.js';
import { expect, it } from 'vitest';
import { randomStream } from '../random.ts';
import { powerPlan } from './current-fft.ts';

/** Doubles after 12 levels of butterflies. */
const ROUNDING = 1e-10;

const SIZES = [16, 32, 64, 128, 256, 512, 1024, 2048, 4096, 8192];

it.each([16, 32, 64, 128, 256])('is the discrete Fourier transform of %i samples, written out', (size) => {
  const random = randomStream(3, 'fft');
  const x = Float64Array.from({ length: size }, () => random.normal());
  const mean = x.reduce((a, b) => a + b, 0) / size;
  const w = Float64Array.from({ length: size }, (_, k) => 0.5 - 0.5 * Math.cos((2 * Math.PI * k) / size));
  const power = w.reduce((a, b) => a + b * b, 0);
  const found = new Float64Array(size / 2 + 1);
  powerPlan(size).add(x, 0, mean, found);
  for (let f = 0; f <= size / 2; f++) {
    let re = 0;
    let im = 0;
    for (let k = 0; k < size; k++) {
      const y = (x[k]! - mean) * w[k]!;
      re += y * Math.cos((2 * Math.PI * f * k) / size);
      im -= y * Math.sin((2 * Math.PI * f * k) / size);
    }
    const sides = f === 0 || f === size / 2 ? 1 : 2;
    const expected = (sides * (re * re + im * im)) / power;
    expect(Math.abs(found[f]! - expected)).toBeLessThan(ROUNDING * (1 + expected));
  }
});

it('the density of white noise sums to its variance, of a sine to half its square', () => {
  const size = 1024;
  const random = randomStream(5, 'parseval');
  const segments = 200;
  const x = Float64Array.from({ length: size * segments }, () => 3 * random.normal());
  const plan = powerPlan(size);
  const sum = new Float64Array(size / 2 + 1);
  for (let k = 0; k < segments; k++) plan.add(x, k * size, 0, sum);
  const variance = sum.reduce((a, b) => a + b, 0) / segments / size;
  // Relative error of the variance of 2e5 samples: sqrt(2/2e5) = 0.3 %; six times that.
  expect(Math.abs(variance / 9 - 1)).toBeLessThan(0.02);
  const sine = Float64Array.from({ length: size }, (_, k) => 2 * Math.sin((2 * Math.PI * 100 * k) / size));
  const line = new Float64Array(size / 2 + 1);
  plan.add(sine, 0, 0, line);
  expect(line.reduce((a, b) => a + b, 0) / size).toBeCloseTo(2, 9);
});

it.each(SIZES)('agrees with another transform, %i samples from the middle of a stretch', (size) => {
  const random = randomStream(7, 'reference');
  const from = 5;
  const x = Float64Array.from({ length: size + 9 }, () => 40 + random.normal());
  const found = new Float64Array(size / 2 + 1).fill(1);
  powerPlan(size).add(x, from, 40, found);
  const w = Float64Array.from({ length: size }, (_, k) => 0.5 - 0.5 * Math.cos((2 * Math.PI * k) / size));
  const power = w.reduce((a, b) => a + b * b, 0);
  const reference = new FFT(size);
  const out = reference.createComplexArray();
  reference.realTransform(
    out,
    Array.from(w, (weight, k) => weight * (x[from + k]! - 40)),
  );
  for (let f = 0; f <= size / 2; f++) {
    const sides = f === 0 || f === size / 2 ? 1 : 2;
    const expected = (sides * (out[2 * f]! ** 2 + out[2 * f + 1]! ** 2)) / power;
    // What stood in the sum stays in it.
    expect(Math.abs(found[f]! - 1 - expected)).toBeLessThan(ROUNDING * (1 + expected));
  }
});

it('refuses sizes it cannot part', () => {
  for (const size of [8, 24, 1000]) expect(() => powerPlan(size)).toThrow('invalid size');
});
