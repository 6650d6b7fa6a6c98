import { expect, test } from 'vitest';
import { correlationAboutZero } from './correlation.ts';

const TOLERANCE_DIGITS = 12;

test('correlation about zero: worked by hand, alike, opposite, and none where one is all zero', () => {
  // (1*2 + 2*1 + 2*2) / sqrt(9 * 9)
  expect(correlationAboutZero([1, 2, 2], [2, 1, 2])).toBeCloseTo(8 / 9, TOLERANCE_DIGITS);
  expect(correlationAboutZero([1, -2], [2, -4])).toBeCloseTo(1, TOLERANCE_DIGITS);
  expect(correlationAboutZero([1, -2], [-1, 2])).toBeCloseTo(-1, TOLERANCE_DIGITS);
  expect(correlationAboutZero([0, 0], [1, 2])).toBeNaN();
  expect(correlationAboutZero([], [])).toBeNaN();
});
