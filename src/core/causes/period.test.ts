import { expect, it } from 'vitest';
import { gapVolume_nL, periodMeaning } from './period.ts';

/** The worked numbers are given to two figures. */
const TWO_FIGURES = 0.03;

it('gives the worked drop sizes: π d³/(6 Q) at 300 and 20 nL/min (computed)', () => {
  for (const [flow, d_mm, T] of [
    [300, 0.1, 0.1047],
    [300, 0.2, 0.838],
    [300, 0.3, 2.83],
    [300, 0.5, 13.1],
    [300, 1, 104.7],
    [20, 0.3, 42.4],
  ] as const)
    expect(
      Math.abs(periodMeaning({ period_s: T, flow_nL_min: flow }).drop_diameter_mm / d_mm - 1),
    ).toBeLessThan(TWO_FIGURES);
});

it('gives a stroke and a step: 33 min of a 10 µL stroke at 300 nL/min; 5 µm steps of 3.26 mm at 0.12 Hz', () => {
  expect(periodMeaning({ period_s: 2000, flow_nL_min: 300 }).volume_nL).toBeCloseTo(10000, 6);
  const step = periodMeaning({ period_s: 1 / 0.12, flow_nL_min: 300, plunger_bore_mm: 3.26 })
    .plunger_step_um!;
  expect(Math.abs(step / 5 - 1)).toBeLessThan(TWO_FIGURES);
});

it('names the aliases that sampling folds onto the period seen', () => {
  const dt = 1.5;
  const { aliases_s, sentences } = periodMeaning({ period_s: 5, flow_nL_min: 300, scan_interval_s: dt });
  expect(aliases_s).toHaveLength(3);
  for (const T of aliases_s)
    for (let k = 0; k < 10; k++)
      expect(
        Math.abs(Math.cos((2 * Math.PI * k * dt) / T) - Math.cos((2 * Math.PI * k * dt) / 5)),
      ).toBeLessThan(1e-9);
  expect(sentences.join(' ')).toContain('folded');
});

it('turns a gap into a bubble and refuses nonsense', () => {
  expect(gapVolume_nL(1, 300)).toBeCloseTo(5, 12);
  expect(() => periodMeaning({ period_s: 0, flow_nL_min: 300 })).toThrow(
    /out of range period_s: 0; expected a positive number/,
  );
});
