import { expect, it } from 'vitest';
import { sparkVoltage } from './spark.ts';

it('gives the worked numbers of a uniform gap in air', () => {
  for (const [gap_mm, kV] of [
    [1, 4.34],
    [2, 7.56],
    [3, 10.6],
    [5, 16.4],
  ] as const)
    expect(sparkVoltage(gap_mm / 1000) / 1000 / kV).toBeCloseTo(1, 2);
});
