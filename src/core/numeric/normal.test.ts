import { expect, it } from 'vitest';
import { normalQuantile, normalShare } from './normal.ts';

/** The fit's stated relative error. */
const FIT = 1.3e-7;

it('gives the tabulated shares (Abramowitz and Stegun 1964, table 26.1, from memory)', () => {
  for (const [z, share] of [
    [0, 0.5],
    [1, 0.8413447461],
    [1.2815515655, 0.9],
    [1.9599639845, 0.975],
    [3, 0.998650102],
  ] as const) {
    expect(Math.abs(normalShare(z) / share - 1)).toBeLessThan(FIT);
    expect(Math.abs(normalShare(-z) + share - 1)).toBeLessThan(FIT);
    expect(Math.abs(normalQuantile(share) - z)).toBeLessThan(1e-5);
  }
});

it('inverts itself from tail to tail and stays finite at the ends', () => {
  for (let z = -5; z <= 5; z += 0.25)
    expect(Math.abs(normalQuantile(normalShare(z)) - z)).toBeLessThan(
      2e-2 / Math.exp((-z * z) / 2) / 1e4 + 1e-5,
    );
  expect(normalQuantile(0)).toBe(-8);
  expect(normalQuantile(1)).toBe(8);
});
