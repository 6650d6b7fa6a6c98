import { describe, expect, it } from 'vitest';
import { randomStream } from '../random.ts';
import { factorLu, solveLu } from './dense-lu.ts';

/** Random matrices of this size have a condition number of some hundreds to thousands. */
const ROUNDING = 1e-10;

describe('dense factors', () => {
  it('solve several right-hand sides at once', () => {
    const n = 40;
    const columns = 3;
    const random = randomStream(7, 'dense-lu');
    const a = Float64Array.from({ length: n * n }, () => random.normal());
    const x = Float64Array.from({ length: n * columns }, () => random.normal());
    const b = new Float64Array(n * columns);
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++)
        for (let j = 0; j < columns; j++)
          b[i * columns + j] = b[i * columns + j]! + a[i * n + k]! * x[k * columns + j]!;
    const lu = factorLu(n, a);
    expect(lu.singular).toBe(false);
    solveLu(lu, b, columns);
    for (let i = 0; i < x.length; i++) expect(Math.abs(b[i]! - x[i]!)).toBeLessThan(ROUNDING);
  });

  it('exchange rows where a pivot is zero and say when the matrix is singular', () => {
    const exchanged = solveLu(factorLu(2, Float64Array.of(0, 2, 4, 0)), Float64Array.of(6, 8));
    expect([...exchanged]).toEqual([2, 3]);
    expect(factorLu(2, Float64Array.of(1, 2, 2, 4)).singular).toBe(true);
    expect(factorLu(1, Float64Array.of(Number.NaN)).singular).toBe(true);
  });
});
