/** Windows made of blocks give the periodogram of the same samples taken alone. */
import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { BLOCK, BlockSums } from './block-sums.ts';
import { lombScargle } from './index.ts';

/** Differences of running sums over some hundred samples. */
const ROUNDING = 1e-9;

test('every window of uneven samples against the plain periodogram', () => {
  const stream = randomStream(12, 'blocks');
  const n = 8 * BLOCK + 5;
  const t = new Float64Array(n);
  for (let i = 1; i < n; i++) t[i] = t[i - 1]! + 0.5 + stream.unit();
  const y = Float64Array.from(t, (time) => 3 + Math.sin(1.3 * time) + stream.normal());
  const grid = { from_Hz: 0.05, step_Hz: 0.004, count: 150 };
  const sums = new BlockSums(t, y, 2, n - 2, grid);
  expect(sums.blocks).toBe(8);
  const out = new Float64Array(grid.count);
  let compared = 0;
  for (const [first, past] of [
    [0, 8],
    [0, 3],
    [2, 6],
    [5, 8],
  ] as const) {
    sums.power(first, past, 0, out);
    const from = 2 + first * BLOCK;
    const to = 2 + past * BLOCK;
    const { power } = lombScargle(
      t.slice(from, to),
      y.slice(from, to),
      grid.from_Hz,
      grid.step_Hz,
      grid.count,
    );
    power.forEach((p, k) => {
      expect(Math.abs(p - out[k]!)).toBeLessThan(ROUNDING);
      compared++;
    });
  }
  expect(compared).toBe(600);
});
