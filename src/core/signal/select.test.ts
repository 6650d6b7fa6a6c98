/** Selection against sorting, on lengths and ties that partitioning gets wrong most easily. */
import { expect, test } from 'vitest';
import { madSigma, median } from '../numeric/robust.ts';
import { randomStream } from '../random.ts';
import { madSigmaInPlace, medianInPlace, select } from './index.ts';

test('every rank of arrays of 1 to 40 values, with and without ties, as sorting gives it', () => {
  const stream = randomStream(6, 'select');
  for (let n = 1; n <= 40; n++) {
    for (const levels of [3, 1e9]) {
      const values = Float64Array.from({ length: n }, () => stream.index(levels));
      const sorted = values.slice().sort();
      for (let rank = 0; rank < n; rank++) expect(select(values.slice(), n, rank)).toBe(sorted[rank]);
      expect(medianInPlace(values.slice(), n)).toBe(median(values));
      expect(madSigmaInPlace(values.slice(), n)).toBe(madSigma(values));
    }
  }
});

test('only the first values count, and none gives no number', () => {
  expect(medianInPlace(Float64Array.of(5, 1, 3, 99, 99), 3)).toBe(3);
  expect(medianInPlace(new Float64Array(3), 0)).toBeNaN();
});
