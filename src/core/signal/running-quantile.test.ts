import fc from 'fast-check';
import { expect, test } from 'vitest';
import { quantile } from '../numeric/robust.ts';
import { centredWindows, runningMedian, runningQuantile, slowMedian } from './running-quantile.ts';

test('any windows that ascend give what sorting each window gives', () => {
  const sample = fc.array(fc.tuple(fc.integer({ min: -5, max: 5 }), fc.nat(3), fc.nat(6)), {
    minLength: 1,
    maxLength: 60,
  });
  fc.assert(
    fc.property(sample, fc.double({ min: 0, max: 1, noNaN: true }), (rows, share) => {
      const values = rows.map(([value]) => value);
      const start = Int32Array.from(rows, () => 0);
      const end = Int32Array.from(rows, () => 0);
      let first = 0;
      let past = 0;
      rows.forEach(([, step, width], i) => {
        first = Math.min(values.length - 1, first + step);
        past = Math.min(values.length, Math.max(past, first + 1 + width));
        start[i] = first;
        end[i] = past;
      });
      const running = runningQuantile(values, { start, end }, share);
      running.forEach((value, i) => {
        expect(value).toBe(quantile(values.slice(start[i], end[i]), share));
      });
    }),
  );
});

test('centred windows hold the time asked for, and at least the samples asked for', () => {
  const time_s = [0, 1, 2, 3, 4, 100, 101, 200];
  const { start, end } = centredWindows(time_s, 2, 3);
  expect([start[2], end[2]]).toEqual([0, 5]);
  expect([start[5], end[5]]).toEqual([4, 7]);
  expect([start[7], end[7]]).toEqual([6, 8]);
});

test('the thinned median of a slow course stays near the full one', () => {
  const n = 20000;
  const time_s = Float64Array.from({ length: n }, (_, i) => i * 0.05);
  const values = time_s.map((t) => Math.sin(t / 200));
  const full = runningMedian(values, centredWindows(time_s, 60, 21));
  const thin = slowMedian(time_s, values, 60, 21);
  let worst = 0;
  for (let i = 0; i < n; i++) worst = Math.max(worst, Math.abs(full[i]! - thin[i]!));
  // Half a stride of 4 samples is 0.1 s on a course of slope 1/200 per second.
  expect(worst).toBeLessThan(2 / 200);
});
