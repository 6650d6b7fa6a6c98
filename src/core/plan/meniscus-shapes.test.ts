import { expect, it } from 'vitest';
import { tipOnset } from '../window/index.ts';
import { meniscusShapes, outlineAt } from './meniscus-shapes.ts';

const SHAPES = meniscusShapes(
  tipOnset({
    boreRadius: 10e-6,
    rimRadius: 15e-6,
    taper: 0,
    shankRadius: 15e-6,
    length: 10e-3,
    distance: 3e-3,
    place: 'inner edge',
  }),
  0.05,
)!;

it('gives a rising apex up to the turn, pinned on the contact line', () => {
  let last = -1;
  for (let k = 2; k <= 20; k++) {
    const share = k / 20;
    const { r_um, z_um, composed } = outlineAt(SHAPES, share * SHAPES.onset_V, SHAPES.onset_V, 0.2);
    expect(composed).toBe(false);
    expect(r_um.at(-1)).toBeCloseTo(10, 6);
    expect(z_um.at(-1)).toBeCloseTo(0, 6);
    expect(z_um[0]!).toBeGreaterThan(last);
    last = z_um[0]!;
  }
  // The published-by-computation height at the turn of this emitter: 0.478 radii.
  expect(Math.abs(last / 4.784 - 1)).toBeLessThan(0.02);
});

it('is called composed above the turn, and ends in the jet at the Taylor angle', () => {
  const { r_um, z_um, composed } = outlineAt(SHAPES, 1.2 * SHAPES.onset_V, SHAPES.onset_V, 0.2);
  expect(composed).toBe(true);
  expect(r_um[0]).toBeCloseTo(0.2, 9);
  const angle = (Math.atan((r_um[1]! - r_um[0]!) / (z_um[0]! - z_um[1]!)) * 180) / Math.PI;
  expect(angle).toBeCloseTo(49.29, 1);
});

it('depends on the share of the onset only, whatever the liquid', () => {
  expect(outlineAt(SHAPES, 600, 1200, 0.2)).toEqual(
    outlineAt(SHAPES, 0.5 * SHAPES.onset_V, SHAPES.onset_V, 0.2),
  );
});
