import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { madSigma, median, quantile, roughQuantile } from './robust.ts';

test('quantiles are linear between order statistics', () => {
  expect(median([3, 1, 2])).toBe(2);
  expect(median([4, 1, 2, 3])).toBe(2.5);
  expect(quantile([10, 20, 30, 40, 50], 0.25)).toBe(20);
  expect(quantile([10, 20], 0.25)).toBe(12.5);
  expect(median([])).toBeNaN();
});

test('the MAD gives the standard deviation of a normal sample, and does not mind a third of nonsense', () => {
  const stream = randomStream(5, 'mad');
  const n = 30000;
  const values = Array.from({ length: n }, () => 3 + 0.2 * stream.normal());
  // Standard error of the scaled MAD is 1.17 sigma / sqrt(n); four of them.
  const tolerance = (4 * 1.17) / Math.sqrt(n);
  expect(Math.abs(madSigma(values) / 0.2 - 1)).toBeLessThan(tolerance);
  const spoiled = values.map((x, i) => (i % 3 === 0 ? 1e9 : x));
  expect(madSigma(spoiled)).toBeLessThan(0.5);
});

test('a rough quantile is the exact one of few samples and near it for many', () => {
  expect(roughQuantile([1, 2, 3], 0.5)).toBe(2);
  const many = Array.from({ length: 10000 }, (_, i) => i);
  expect(Math.abs(roughQuantile(many, 0.25) - 2500)).toBeLessThan(100);
});
