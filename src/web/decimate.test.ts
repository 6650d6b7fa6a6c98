import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimate } from './decimate.ts';

describe('decimate', () => {
  it('leaves a short series whole', () => {
    const out = decimate([0, 1, 2], [5, 6, 7], { from: 0, to: 2 }, 100);
    expect(out).toEqual({ x: [0, 1, 2], y: [5, 6, 7], low: 5, high: 7 });
  });

  it('keeps one deep scan in a hundred thousand', () => {
    const time = Float64Array.from({ length: 100_000 }, (_, i) => i * 0.5);
    const level = new Float64Array(100_000).fill(10);
    level[54_321] = 0.25;
    const out = decimate(time, level, { from: 0, to: 50_000 }, 900);
    expect(out.low).toBe(0.25);
    expect(out.x.length).toBeLessThanOrEqual(2 * 902);
  });

  it('finds the same extremes as a naive pass, in rising time', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1e9, noNaN: true }), { minLength: 3, maxLength: 400 }),
        (level) => {
          const time = level.map((_, i) => i);
          const out = decimate(time, level, { from: 0, to: level.length - 1 }, 20);
          expect(out.low).toBe(Math.min(...level));
          expect(out.high).toBe(Math.max(...level));
          expect(out.x.every((t, i) => i === 0 || t >= (out.x[i - 1] as number))).toBe(true);
        },
      ),
    );
  });

  it('shows only the span and its two neighbours', () => {
    const time = Array.from({ length: 1000 }, (_, i) => i);
    const out = decimate(time, time, { from: 100, to: 110 }, 50);
    expect(out.x[0]).toBe(99);
    expect(out.x.at(-1)).toBe(111);
  });

  it('lifts the pen in a gap and at absent values, thinned or not', () => {
    const time = Array.from({ length: 1000 }, (_, i) => (i < 500 ? i : i + 300));
    for (const columns of [20, 5000]) {
      const out = decimate(time, time, { from: 0, to: 1299 }, columns, [650]);
      const at = out.x.indexOf(650);
      expect(at).toBeGreaterThan(0);
      expect(out.y[at]).toBeNull();
      expect(out.x[at - 1]).toBeLessThan(650);
      expect(out.x[at + 1]).toBeGreaterThan(650);
    }
    expect(decimate([0, 1, 2], [1, null, 3], { from: 0, to: 2 }, 10).y).toEqual([1, null, 3]);
  });
});
