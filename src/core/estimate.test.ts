import { describe, expect, it } from 'vitest';
import { estimate, estimateFactor, estimateRelative, powerProduct } from './estimate.ts';

const named = { basis: 'a law', sources: ['a source'] };

describe('estimate', () => {
  it('doubles the range outside validity and says so', () => {
    const inside = estimateRelative(100, 0.1, named);
    const outside = estimateRelative(100, 0.1, { ...named, valid: false, note: 'too hot' });
    expect([inside.low, inside.high, inside.valid]).toEqual([90, 110, true]);
    expect([outside.low, outside.high, outside.valid, outside.note]).toEqual([80, 120, false, 'too hot']);
  });

  it('squares a factor outside validity so that the range stays positive', () => {
    const outside = estimateFactor(10, 2, { ...named, valid: false });
    expect([outside.low, outside.high, outside.valid]).toEqual([2.5, 40, false]);
  });

  it.each([
    [Number.NaN, 0, 1],
    [2, 0, 1],
    [0, 1, 2],
  ])('refuses %s in %s … %s', (value, low, high) => {
    expect(() => estimate(value, low, high, named)).toThrow(/invalid estimate/);
  });
});

describe('powerProduct', () => {
  it('halves the log range under a square root and adds in quadrature', () => {
    const x = estimateFactor(4, 4, named);
    const one = powerProduct(2, [{ estimate: x, exponent: 0.5 }], 1, 1, named);
    expect(one.low).toBeCloseTo(1, 12);
    expect(one.high).toBeCloseTo(4, 12);
    const two = powerProduct(
      4,
      [
        { estimate: x, exponent: 0.5 },
        { estimate: x, exponent: 0.5 },
      ],
      1,
      1,
      named,
    );
    expect(two.high).toBeCloseTo(4 * 2 ** Math.SQRT2, 10);
  });

  it('swaps the ends under a negative exponent and inherits invalidity', () => {
    const skew = { ...estimate(10, 9, 20, named), valid: false, note: 'beyond its table' };
    const result = powerProduct(0.1, [{ estimate: skew, exponent: -1 }], 1, 1, named);
    expect(result.low).toBeCloseTo(0.05, 12);
    expect(result.high).toBeCloseTo(1 / 9, 12);
    expect(result.valid).toBe(false);
    expect(result.note).toContain('beyond its table');
  });
});
