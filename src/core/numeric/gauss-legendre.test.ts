import { describe, expect, it } from 'vitest';
import { gaussLegendre } from './gauss-legendre.ts';

/** Rounding of a sum of n positive terms. */
const ROUNDING = 1e-14;

describe('Gauss-Legendre rule', () => {
  it.each([1, 2, 4, 6, 10, 12, 24])('with %i points integrates every power up to 2n - 1', (n) => {
    const { x, w } = gaussLegendre(n);
    for (let power = 0; power < 2 * n; power++) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += w[i]! * x[i]! ** power;
      expect(Math.abs(sum * (power + 1) - 1)).toBeLessThan(ROUNDING);
    }
  });

  it('is ascending and symmetric', () => {
    const { x } = gaussLegendre(7);
    for (let i = 1; i < 7; i++) expect(x[i]!).toBeGreaterThan(x[i - 1]!);
    expect(Math.abs(x[3]! - 0.5)).toBeLessThan(ROUNDING);
  });
});
