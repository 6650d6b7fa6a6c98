/** Conductivity: standards, handbook acids, Onsager constants. */
import { describe, expect, it } from 'vitest';
import {
  acidConcentration,
  carbonatedWaterConductivity,
  ionConductivityInWater,
  ionsConductivity,
  type Medium,
  mixtureConductivity,
  onsagerConstants,
  waterDensity,
} from '../../src/core/liquid/index.ts';

const C = (t: number) => t + 273.15;
const water = (t: number): Medium => ({ organic: 'acetonitrile', fraction: 0, temperature_K: C(t) });
/** Standards and handbook solutions are counted without stray salt. */
const NO_STRAY = 0;

/** Onsager with a fixed ion size at 0.01 mol/kg; standards agree with each other to 0.7 %. */
const KCL_DILUTE_RELATIVE = 5e-3;
/** The same at 0.1 mol/kg, the end of its range. */
const KCL_STRONG_RELATIVE = 0.015;
/** Two handbook digits. */
const FORMIC_RELATIVE = 0.06;
/** Rounded in the reference. */
const REFERENCE_RELATIVE = 0.02;
const PURE_WATER_RELATIVE = 0.02;
/** Henry constant from memory, activity, 400 to 430 ppm. */
const OPEN_WATER_RELATIVE = 0.15;
const CONSTANTS_RELATIVE = 5e-3;
/** Single ions set the exponents; 0.3 % is the stated fit. */
const ION_RELATIVE = 4e-3;

function near(value: number, expected: number, relative: number) {
  expect(Math.abs(value / expected - 1)).toBeLessThan(relative);
}

/** mol/kg to mol/m3: water's volume plus the salt's own 27.3 cm3/mol (apparent, from memory). */
function kclPerVolume(molality: number, t: number): number {
  return molality / (1 / waterDensity(C(t)) + molality * 27.3e-6);
}

function kcl(molality: number, t: number): number {
  const c = kclPerVolume(molality, t);
  return ionsConductivity(
    [
      ['K+', c],
      ['Cl-', c],
    ],
    water(t),
  );
}

describe('potassium chloride', () => {
  // Pratt et al. 2001, Pure Appl. Chem. 73, 1783, from memory.
  it.each([
    [0, 0.077292],
    [15, 0.114145],
    [20, 0.127303],
    [25, 0.140823],
    [30, 0.154663],
    [40, 0.183127],
  ])('0.01 mol/kg at %f °C', (t, expected) => near(kcl(0.01, t), expected, KCL_DILUTE_RELATIVE));
  it('0.1 mol/kg at 25 °C', () => near(kcl(0.1, 25), 1.28246, KCL_STRONG_RELATIVE));
});

describe('single ions', () => {
  // Robinson, Stokes 1959, appendix 6.2, from memory.
  it.each([
    ['H+', 15, 300.6],
    ['H+', 35, 397],
    ['Na+', 35, 61.54],
    ['K+', 35, 88.21],
    ['Cl-', 15, 61.41],
  ] as const)('%s at %f °C', (ion, t, expected) => {
    near(ionConductivityInWater(ion, C(t)), expected * 1e-4, ION_RELATIVE);
  });
});

describe('acids in water', () => {
  // CRC Handbook, electrical conductivity of aqueous solutions, 20 °C: 1, 2, 5, 10 % by mass.
  it.each([
    [217, 0.24],
    [436, 0.35],
    [1097, 0.56],
    [2221, 0.78],
  ])('formic acid %f mol/m3', (c, expected) => {
    const value = mixtureConductivity({ name: 'formic acid', concentration_mol_m3: c }, water(20), NO_STRAY);
    near(value, expected, FORMIC_RELATIVE);
  });
  // The same table at 0.5 % by mass says 0.14: it breaks the square-root law its neighbours obey. Kept as an open
  // disagreement; a model that suddenly agreed would have changed.
  it('formic acid 0.5 % stays in disagreement', () => {
    const ratio =
      mixtureConductivity({ name: 'formic acid', concentration_mol_m3: 109 }, water(20), NO_STRAY) / 0.14;
    expect(ratio).toBeGreaterThan(1.15);
    expect(ratio).toBeLessThan(1.27);
  });
  // CRC Handbook acetic acid, one digit, lies below a model without the solution's own viscosity.
  it.each([
    [0.1665, 0.06, 1.12],
    [0.333, 0.08, 1.2],
    [0.8326, 0.12, 1.28],
  ])('acetic acid %f mol/L lies above the handbook', (c, expected, most) => {
    const value = mixtureConductivity(
      { name: 'acetic acid', concentration_mol_m3: c * 1000 },
      water(20),
      NO_STRAY,
    );
    expect(value / expected).toBeGreaterThan(1);
    expect(value / expected).toBeLessThan(most);
  });
  // Liquids reference, computed.
  it('0.1 % formic acid, 25 °C', () => {
    const additive = {
      name: 'formic acid',
      concentration_mol_m3: acidConcentration('formic acid', 0.1),
    } as const;
    near(additive.concentration_mol_m3, 26.5, REFERENCE_RELATIVE);
    near(mixtureConductivity(additive, water(25), NO_STRAY), 0.0868, REFERENCE_RELATIVE);
  });
});

describe('water itself', () => {
  // Ultrapure water 0.0550 µS/cm at 25 °C, from memory.
  it('pure', () => {
    const value = mixtureConductivity({ name: 'none', concentration_mol_m3: 0 }, water(25), NO_STRAY);
    near(value, 5.5e-6, PURE_WATER_RELATIVE);
  });
  // Common practice, 1 µS/cm for water open to air; computed.
  it('open to air', () => near(carbonatedWaterConductivity(42.6), 1e-4, OPEN_WATER_RELATIVE));
  // Robinson, Stokes 1959, water at 25 °C, from memory; computed.
  it('Onsager and Debye-Hückel constants', () => {
    const { electrophoretic, relaxation, activity, inverseLength } = onsagerConstants(water(25));
    near(electrophoretic, 60.6, CONSTANTS_RELATIVE);
    near(relaxation, 0.2295, CONSTANTS_RELATIVE);
    near(activity, 0.5105, CONSTANTS_RELATIVE);
    near(inverseLength, 0.3289, CONSTANTS_RELATIVE);
  });
});

describe('mixtures', () => {
  it.each(['acetonitrile', 'methanol', '2-propanol'] as const)(
    'formic acid conducts less with every step of %s',
    (organic) => {
      const values = Array.from({ length: 51 }, (_, i) =>
        mixtureConductivity(
          { name: 'formic acid', concentration_mol_m3: 26.5 },
          { organic, fraction: i / 50, temperature_K: C(25) },
          NO_STRAY,
        ),
      );
      expect(values).toHaveLength(51);
      for (let i = 1; i <= 50; i += 1) expect(values[i]!).toBeLessThan(values[i - 1]!);
    },
  );
});
