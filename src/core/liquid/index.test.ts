import { describe, expect, it } from 'vitest';
import { InputError } from '../errors.ts';
import type { LiquidSpec } from '../setup.ts';
import { liquidProperties } from './index.ts';

const FORMIC: LiquidSpec = {
  acetonitrile_percent: 20,
  methanol_percent: 0,
  propanol_2_percent: 0,
  additive: 'formic acid',
  additive_percent: 0.1,
  temperature_C: 25,
};

/** Rounding only. */
const SAME = 1e-9;

describe('liquidProperties', () => {
  it('gives every property with a range around the value, sources and a basis', () => {
    const all = Object.entries(liquidProperties(FORMIC));
    expect(all.map(([key]) => key)).toEqual([
      'density_kg_m3',
      'viscosity_mPa_s',
      'surface_tension_mN_m',
      'permittivity_relative',
      'vapour_pressure_kPa',
      'conductivity_S_m',
      'ionic_strength_mol_m3',
      'pH',
    ]);
    for (const [, e] of all) {
      expect(e.low).toBeLessThan(e.value);
      expect(e.high).toBeGreaterThan(e.value);
      expect(e.sources.length).toBeGreaterThan(0);
      expect(e.basis).not.toBe('');
      expect(e.valid).toBe(true);
    }
  });

  it('lets a measured value replace the model and says so', () => {
    const { conductivity_S_m, surface_tension_mN_m } = liquidProperties({
      ...FORMIC,
      conductivity_S_m: 0.05,
      surface_tension_mN_m: 38,
    });
    expect(conductivity_S_m.value).toBe(0.05);
    expect(conductivity_S_m.high / 0.05 - 1).toBeCloseTo(0.05, 9);
    expect(surface_tension_mN_m.low / 38 - 1).toBeCloseTo(-0.02, 9);
    expect(conductivity_S_m.note).toMatch(/replaces the model/);
  });

  it('widens with organic: 5 % in water, about 1.4 at half, more than 2 beyond 90 %', () => {
    const factor = (acetonitrile_percent: number) => {
      const { value, high } = liquidProperties({ ...FORMIC, acetonitrile_percent }).conductivity_S_m;
      return high / value;
    };
    expect(factor(0)).toBeGreaterThan(1.04);
    expect(factor(0)).toBeLessThan(1.07);
    expect(factor(20)).toBeGreaterThan(1.14);
    expect(factor(20)).toBeLessThan(1.2);
    expect(factor(50)).toBeGreaterThan(1.35);
    expect(factor(50)).toBeLessThan(1.5);
    expect(factor(95)).toBeGreaterThan(2);
  });

  it('adds the stray salt and lets it decide without additive', () => {
    const e = liquidProperties({ ...FORMIC, acetonitrile_percent: 0, additive: 'none' }).conductivity_S_m;
    // 20 µmol/L at Λ0 = 150e-4 S m2/mol.
    expect(e.value).toBeGreaterThan(2.8e-4);
    expect(e.value).toBeLessThan(3.1e-4);
    expect(e.low).toBeLessThan(1e-4);
    expect(liquidProperties({ ...FORMIC, additive: 'none' }).pH).toBeUndefined();
  });

  it('marks what is outside its validity and keeps the value', () => {
    for (const temperature_C of [14, 41]) {
      for (const e of Object.values(liquidProperties({ ...FORMIC, temperature_C }))) {
        expect(e.valid).toBe(false);
        expect(e.note).toMatch(/15 to 40/);
      }
    }
    for (const temperature_C of [15, 40]) {
      expect(liquidProperties({ ...FORMIC, temperature_C }).density_kg_m3.valid).toBe(true);
    }
    expect(liquidProperties({ ...FORMIC, acetonitrile_percent: 85 }).conductivity_S_m.valid).toBe(false);
    const cold = { ...FORMIC, acetonitrile_percent: 0, propanol_2_percent: 20, temperature_C: 17 };
    expect(liquidProperties(cold).viscosity_mPa_s.valid).toBe(false);
  });

  it('takes several organics between their binaries, with a wider range', () => {
    const one = liquidProperties({ ...FORMIC, acetonitrile_percent: 50 });
    const other = liquidProperties({ ...FORMIC, acetonitrile_percent: 0, methanol_percent: 50 });
    const both = liquidProperties({ ...FORMIC, acetonitrile_percent: 25, methanol_percent: 25 });
    for (const key of ['viscosity_mPa_s', 'surface_tension_mN_m', 'conductivity_S_m'] as const) {
      const low = Math.min(one[key].value, other[key].value);
      const high = Math.max(one[key].value, other[key].value);
      expect(both[key].value).toBeGreaterThan(low - SAME);
      expect(both[key].value).toBeLessThan(high + SAME);
      const width = (e: { low: number; high: number; value: number }) => (e.high - e.low) / e.value;
      expect(width(both[key])).toBeGreaterThan(width(one[key]));
      expect(both[key].note).toMatch(/more than one organic/);
    }
  });

  it('stays finite and ordered over every composition, additive and temperature', () => {
    const additives = [
      { additive: 'none' },
      { additive: 'formic acid', additive_percent: 1 },
      { additive: 'acetic acid', additive_percent: 0.5 },
      { additive: 'trifluoroacetic acid', additive_percent: 0.1 },
      { additive: 'ammonium acetate', additive_mM: 10 },
      { additive: 'ammonium formate', additive_mM: 0 },
      { additive: 'ammonium bicarbonate', additive_mM: 50 },
    ] as const;
    let checked = 0;
    for (const a of additives) {
      for (const [acetonitrile_percent, methanol_percent, propanol_2_percent] of [
        [0, 0, 0],
        [100, 0, 0],
        [0, 100, 0],
        [0, 0, 100],
        [40, 30, 30],
        [10, 0, 10],
        [90, 0, 0],
      ] as const) {
        for (const temperature_C of [5, 25, 60]) {
          const spec = { acetonitrile_percent, methanol_percent, propanol_2_percent, temperature_C, ...a };
          for (const e of Object.values(liquidProperties(spec))) {
            expect(e.low <= e.value && e.value <= e.high && Number.isFinite(e.high)).toBe(true);
          }
          expect(liquidProperties(spec).conductivity_S_m.low).toBeGreaterThan(0);
          checked += 1;
        }
      }
    }
    expect(checked).toBe(147);
  });

  it('refuses what cannot be', () => {
    expect(() => liquidProperties({ ...FORMIC, acetonitrile_percent: 80, methanol_percent: 30 })).toThrow(
      /out of range liquid content: 110 %/,
    );
    expect(() => liquidProperties({ ...FORMIC, acetonitrile_percent: -1 })).toThrow(InputError);
    expect(() => liquidProperties({ ...FORMIC, additive_percent: undefined })).toThrow(
      /missing liquid.additive_percent/,
    );
    expect(() => liquidProperties({ ...FORMIC, conductivity_S_m: 0 })).toThrow(/liquid.conductivity_S_m/);
    expect(() => liquidProperties({ ...FORMIC, temperature_C: Number.NaN })).toThrow(/temperature_C/);
  });
});
