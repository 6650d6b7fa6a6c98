import { describe, expect, it } from 'vitest';
import { madeDraws } from '../../../test/kit/made-draws.ts';
import { alongGradient } from './along-gradient.ts';
import { gradientCsv, gradientText } from './gradient-text.ts';

const plan = alongGradient({
  gradient: {
    bottle_A_organic_percent: 0,
    bottle_B_organic_percent: 80,
    organic: 'acetonitrile',
    table: [
      { time_min: 0, percent_B: 5 },
      { time_min: 60, percent_B: 50 },
      { time_min: 63, percent_B: 100 },
      { time_min: 70, percent_B: 100 },
    ],
  },
  flow_nL_min: 300,
  conditionsAt: (x) => madeDraws({ count: 20, onset_V: 1000 - 6 * x, spread: 0.05, steady: 1.1, tilt: 1.3 }),
  inletSide_V: 0,
  supplyLimit_V: 5000,
  contactRadius_um: 10,
  supply_V: 1000,
  moments: 40,
});

describe('the gradient plan in words and as CSV', () => {
  it('prints the parts, the table to enter, the minutes at risk and the walk', () => {
    const text = gradientText(plan).join('\n');
    expect(text).toMatch(/elution 0 min to 60 min \(4 % to 40 % organic/);
    expect(text).toMatch(/wash 61.3 min to 70 min/);
    expect(text).toMatch(/Supply by hand\n.*\n\s+0\.0\s+\d{4}\s+\d{4}/);
    expect(text).toMatch(/Minutes at risk at 1000 V \(stated supply\)\n {2}- 0 min to/);
    expect(text.match(/by 50 V;/g)).toHaveLength(3);
  });

  it('writes one CSV row for each moment, as wide as its head', () => {
    const [head, ...rows] = gradientCsv(plan).trimEnd().split('\n');
    expect(rows.length).toBe(plan.times_min.length);
    expect(rows.every((row) => row.split(',').length === head!.split(',').length)).toBe(true);
    expect(head).toMatch(/^time_min,organic_percent,part,onset_V_low,/);
    expect(rows[0]).toMatch(/^0\.000,4\.00,elution,/);
  });
});
