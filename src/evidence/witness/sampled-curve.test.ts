import { expect, test } from 'vitest';
import { PeakList } from './peak-list.ts';
import { isSampledCurve } from './sampled-curve.ts';

test('a sampled profile, gaps between its peaks cut out, is a curve; picked peaks under that word are none', () => {
  const profile: number[] = [];
  for (const centre of [200.1, 340.2, 512.3]) for (let k = -5; k <= 5; k++) profile.push(centre + 0.004 * k);
  expect(isSampledCurve(profile)).toBe(true);
  // Unit resolution at low m/z: points 0.07 apart.
  expect(isSampledCurve(Array.from({ length: 200 }, (_, k) => 60 + 0.07 * k))).toBe(true);
  expect(isSampledCurve([104.07, 130.05, 204.12, 268.1])).toBe(false);
  expect(isSampledCurve([204.12, 204.13, 204.14, 130.05])).toBe(false);
  expect(isSampledCurve([])).toBe(true);
});

test('a scan declared as profile that lists its peaks keeps them all', () => {
  const list = new PeakList();
  list.take(Float64Array.of(204.12, 130.05, 104.07), Float64Array.of(3, 2, 1), true);
  expect(list.count).toBe(3);
  expect([...list.mz.subarray(0, 3)]).toEqual([104.07, 130.05, 204.12]);
});
