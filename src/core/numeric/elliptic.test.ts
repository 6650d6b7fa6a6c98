import { describe, expect, it } from 'vitest';
import { ellipticE, ellipticK } from './elliptic.ts';

/** Coefficients hold to 2e-16; the rest is rounding of a sum of ten terms and of the mean itself. */
const K_TOLERANCE = 1e-15;
/** Rounding of one value of E, or of a sum of products of such values. */
const E_TOLERANCE = 2e-15;

function byMean(m1: number): { k: number; e: number } {
  let a = 1;
  let b = Math.sqrt(m1);
  let sum = (1 - m1) / 2;
  for (let half = 1; Math.abs(a - b) > 1e-16 * a && half < 1e6; half *= 2) {
    const c = (a - b) / 2;
    const mean = (a + b) / 2;
    b = Math.sqrt(a * b);
    a = mean;
    sum += half * c * c;
  }
  const k = Math.PI / (2 * a);
  return { k, e: k * (1 - sum) };
}

describe('complete elliptic integrals of the complementary parameter', () => {
  it('agree with the arithmetic-geometric mean from 1e-14 to 1', () => {
    let worstK = 0;
    let worstE = 0;
    for (let i = 0; i <= 2800; i++) {
      const m1 = 10 ** (-14 * (1 - i / 2800));
      const { k, e } = byMean(m1);
      worstK = Math.max(worstK, Math.abs(ellipticK(m1) / k - 1));
      // The mean forms E as K (1 - sum), so its own rounding grows with K.
      worstE = Math.max(worstE, Math.abs(ellipticE(m1) / e - 1) / Math.max(k, 1));
    }
    expect(worstK).toBeLessThan(K_TOLERANCE);
    expect(worstE).toBeLessThan(E_TOLERANCE);
  });

  it('know the lemniscate and the circle', () => {
    expect(Math.abs(ellipticK(0.5) - 1.8540746773013719)).toBeLessThan(K_TOLERANCE);
    expect(Math.abs(ellipticE(0.5) - 1.3506438810476755)).toBeLessThan(K_TOLERANCE);
    expect(Math.abs(ellipticK(1) - Math.PI / 2)).toBeLessThan(K_TOLERANCE);
    expect(Math.abs(ellipticE(1) - Math.PI / 2)).toBeLessThan(K_TOLERANCE);
    expect(ellipticE(0)).toBe(1);
  });

  it('satisfy Legendre: K E1 + E K1 - K K1 = pi / 2', () => {
    for (const m1 of [0.01, 0.2, 0.5, 0.7]) {
      const [k, e, k1, e1] = [ellipticK(m1), ellipticE(m1), ellipticK(1 - m1), ellipticE(1 - m1)];
      expect(Math.abs(k * e1 + e * k1 - k * k1 - Math.PI / 2)).toBeLessThan(E_TOLERANCE);
    }
  });
});
