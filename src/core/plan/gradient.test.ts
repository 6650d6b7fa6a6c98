import { describe, expect, it } from 'vitest';
import type { GradientSpec, Setup } from '../setup.ts';
import { gradientSetups, setupAtOrganic } from './gradient.ts';

const gradient: GradientSpec = {
  bottle_A_organic_percent: 2,
  bottle_B_organic_percent: 80,
  organic: 'methanol',
  table: [
    { time_min: 0, percent_B: 0 },
    { time_min: 30, percent_B: 50 },
  ],
};
const setup: Setup = {
  emitter: {
    bore_um: 10,
    rim_um: 20,
    taper_half_angle_deg: 8,
    shank_diameter_um: 360,
    free_length_mm: 10,
    material: 'fused silica',
    wets: 'rim',
  },
  liquid: {
    acetonitrile_percent: 25,
    methanol_percent: 0,
    propanol_2_percent: 0,
    additive: 'formic acid',
    additive_percent: 0.1,
    temperature_C: 22,
    conductivity_S_m: 0.03,
    surface_tension_mN_m: 41,
  },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 2.5, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'tip', column: [] },
  gradient,
};

describe('set-ups along a gradient', () => {
  it('mix the two bottles linearly and hold one solvent only', () => {
    const [first, last] = gradientSetups(setup);
    expect([first!.organic_percent, last!.organic_percent]).toEqual([2, 41]);
    expect(last!.setup.liquid).toMatchObject({ acetonitrile_percent: 0, methanol_percent: 41 });
    expect(last!.setup.gradient).toBeUndefined();
    expect(gradientSetups({ ...setup, gradient: undefined })).toEqual([]);
  });

  it('take no value measured at one composition to another', () => {
    const { liquid, emitter } = setupAtOrganic(setup, gradient, 41);
    expect(liquid.conductivity_S_m).toBeUndefined();
    expect(liquid.surface_tension_mN_m).toBeUndefined();
    expect(liquid).toMatchObject({ additive: 'formic acid', additive_percent: 0.1, temperature_C: 22 });
    expect(emitter).toEqual(setup.emitter);
  });
});
