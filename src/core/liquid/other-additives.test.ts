import { expect, it } from 'vitest';
import type { LiquidSpec } from '../setup.ts';
import { liquidProperties, measurementsAsked, mixtureIonicStrength } from './index.ts';

const BARE: LiquidSpec = {
  acetonitrile_percent: 30,
  methanol_percent: 0,
  propanol_2_percent: 0,
  additive: 'formic acid',
  additive_percent: 0.1,
  temperature_C: 25,
};
const WITH = { ...BARE, other_additives: [{ name: 'dimethyl sulfoxide', percent: 5 }] };

it('does not stop at an additive without data: computed without it, widened, marked', () => {
  const bare = liquidProperties({ ...BARE, acetonitrile_percent: 30 / 0.95 });
  const marked = liquidProperties(WITH);
  for (const key of [
    'surface_tension_mN_m',
    'conductivity_S_m',
    'viscosity_mPa_s',
    'density_kg_m3',
  ] as const) {
    expect(marked[key].value, key).toBeCloseTo(bare[key].value, 9);
    expect(marked[key].high / marked[key].low, key).toBeGreaterThan(bare[key].high / bare[key].low);
    expect(marked[key].valid, key).toBe(false);
    expect(marked[key].note, key).toContain('computed without dimethyl sulfoxide');
  }
});

it('asks for what to measure, and no more for what was measured', () => {
  expect(measurementsAsked(BARE)).toEqual([]);
  expect(measurementsAsked(WITH)[0]).toMatch(/No data for dimethyl sulfoxide.*conductivity.*surface tension/);
  const known = { ...WITH, conductivity_S_m: 0.02 };
  expect(liquidProperties(known).conductivity_S_m.valid).toBe(true);
  expect(measurementsAsked(known)[0]).not.toContain('conductivity');
  expect(measurementsAsked(known)[0]).toContain('surface tension');
});

it('lets dissolved ions raise the conductivity and a surfactant lower the surface tension', () => {
  const salty = liquidProperties({ ...BARE, other_additives: [{ name: 'some salt', mM: 10 }] });
  const bare = liquidProperties(BARE);
  expect(salty.conductivity_S_m.high).toBeCloseTo(bare.conductivity_S_m.high + 0.125, 6);
  expect(salty.surface_tension_mN_m.low).toBeLessThan(0.8 * bare.surface_tension_mN_m.low);
  expect(salty.ionic_strength_mol_m3.high).toBeGreaterThan(10);
});

it('refuses more than a whole in one line', () => {
  expect(() =>
    liquidProperties({ ...BARE, acetonitrile_percent: 98, other_additives: [{ name: 'x', percent: 5 }] }),
  ).toThrow(/out of range liquid content: 103 %; expected at most 100 %/);
});

it('gives the ionic strength of 0.1 % formic acid in water: 2.1 mol/m3, and of a salt its concentration (computed)', () => {
  const WORKED = 0.06; // the reference takes activities as 1
  const water = { organic: 'acetonitrile' as const, fraction: 0, temperature_K: 298.15 };
  const acid = mixtureIonicStrength({ name: 'formic acid', concentration_mol_m3: 26.5 }, water, 0);
  expect(Math.abs(acid / 2.08 - 1)).toBeLessThan(WORKED);
  expect(mixtureIonicStrength({ name: 'ammonium acetate', concentration_mol_m3: 10 }, water, 0)).toBeCloseTo(
    10,
    9,
  );
});
