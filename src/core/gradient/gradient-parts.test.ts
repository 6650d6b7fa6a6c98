import { describe, expect, it } from 'vitest';
import type { GradientSpec } from '../setup.ts';
import { gradientParts } from './gradient-parts.ts';
import { tipComposition } from './tip-composition.ts';

function partsOf(rows: [number, number][], delay = 0, change: Partial<GradientSpec> = {}) {
  const spec: GradientSpec = {
    bottle_A_organic_percent: 0,
    bottle_B_organic_percent: 80,
    organic: 'acetonitrile',
    table: rows.map(([time_min, percent_B]) => ({ time_min, percent_B })),
    ...change,
  };
  const end = rows.at(-1)![0];
  const times = Array.from({ length: 201 }, (_, k) => (end * k) / 200);
  return gradientParts(spec, delay, times, tipComposition(spec, null, end));
}

describe('parts of a run', () => {
  it('takes the longest rise and its gentle neighbours as elution, the steep one after it as wash', () => {
    const parts = partsOf([
      [0, 3],
      [5, 8],
      [60, 40],
      [65, 100],
      [75, 100],
    ]);
    expect(parts.elution).toMatchObject({ start_min: 0, end_min: 60 });
    expect(parts.wash!.start_min).toBeGreaterThan(60);
    expect(parts.wash!.end_min).toBe(75);
  });

  it('leaves a steep start, a hold and the way back out of both', () => {
    const parts = partsOf([
      [0, 2],
      [4, 2],
      [6, 12],
      [50, 35],
      [52, 95],
      [60, 95],
      [61, 2],
      [80, 2],
    ]);
    expect(parts.elution).toMatchObject({ start_min: 6, end_min: 50 });
    expect(parts.wash!.end_min).toBeLessThan(61.1);
  });

  it('moves the elution to the tip by the delay', () => {
    expect(
      partsOf(
        [
          [0, 3],
          [60, 40],
          [65, 100],
        ],
        4.5,
      ).elution,
    ).toMatchObject({ start_min: 4.5, end_min: 64.5 });
  });

  it('takes a table that never rises as elution, and a stated elution as stated', () => {
    expect(
      partsOf([
        [0, 30],
        [20, 30],
      ]).elution,
    ).toMatchObject({ start_min: 0, end_min: 20 });
    expect(
      partsOf([
        [0, 30],
        [20, 30],
      ]).wash,
    ).toBeUndefined();
    const stated = partsOf(
      [
        [0, 3],
        [60, 40],
        [65, 100],
      ],
      0,
      { elution: { start_min: 10, end_min: 40 } },
    );
    expect(stated.elution).toEqual({ start_min: 10, end_min: 40, rule: 'elution as stated' });
    expect(() =>
      partsOf(
        [
          [0, 3],
          [60, 40],
        ],
        0,
        { elution: { start_min: 70, end_min: 80 } },
      ),
    ).toThrow(/out of range gradient.elution.start_min: 70 min; expected within the run/);
  });

  it('finds the rise of organic where bottle B holds less of it', () => {
    const parts = partsOf(
      [
        [0, 90],
        [50, 40],
        [60, 90],
      ],
      0,
      {
        bottle_A_organic_percent: 80,
        bottle_B_organic_percent: 0,
      },
    );
    expect(parts.elution).toMatchObject({ start_min: 0, end_min: 50 });
  });
});
