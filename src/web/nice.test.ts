import fc from 'fast-check';
import { expect, it } from 'vitest';
import { niceAbove, niceBelow } from './nice.ts';

/** Powers of ten carry rounding of a few units in the last place. */
const ROUNDING = 1e-9;

it('stays within a factor 2.5 on the asked side', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), (x) => {
      expect(niceBelow(x) / x).toBeLessThanOrEqual(1 + ROUNDING);
      expect(niceBelow(x) / x).toBeGreaterThan(0.4 - ROUNDING);
      expect(niceAbove(x) / x).toBeGreaterThanOrEqual(1 - ROUNDING);
      expect(niceAbove(x) / x).toBeLessThan(2.5 + ROUNDING);
    }),
  );
  expect([niceBelow(3), niceBelow(5), niceAbove(3), niceAbove(120)]).toEqual([2, 5, 5, 200]);
});
