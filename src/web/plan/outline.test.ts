import { expect, it } from 'vitest';
import { emitterOutline } from './outline.ts';

const emitter = {
  bore_um: 10,
  rim_um: 20,
  taper_half_angle_deg: 45,
  shank_diameter_um: 360,
  free_length_mm: 10,
  material: 'glass',
  wets: 'rim' as const,
};

it('widens at the taper angle up to the shank', () => {
  const points = emitterOutline(emitter, 5);
  expect(points.length).toBe(3);
  expect(points[0]).toEqual({ along: 0, half: 0.01 });
  expect(points[1]?.along).toBeCloseTo(0.17, 9);
  expect(points[2]).toEqual({ along: 5, half: 0.18 });
});

it('stops inside the taper where no more is shown, and stays straight without one', () => {
  expect(emitterOutline(emitter, 0.1).at(-1)?.half).toBeCloseTo(0.11, 9);
  const straight = emitterOutline({ ...emitter, taper_half_angle_deg: 0, shank_diameter_um: 20 }, 1);
  expect(straight.every((p) => p.half === 0.01)).toBe(true);
});
