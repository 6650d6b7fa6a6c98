/** Binary mixtures with water against published points, and what must hold for any of them. */
import { describe, expect, it } from 'vitest';
import {
  contraction,
  methanolPHShift,
  mixtureDensity,
  mixturePermittivity,
  mixtureSurfaceTension,
  mixtureVapourPressure,
  mixtureViscosity,
  moleFraction,
  ORGANICS,
  organicDensity,
  organicPermittivity,
  organicSurfaceTension,
  organicVapourPressure,
  organicViscosity,
  vapourOver,
  volumeFractionOfMass,
  volumeFractionOfMoles,
  waterDensity,
  waterPermittivity,
  waterSurfaceTension,
  waterVapourPressure,
  waterViscosity,
} from '../../src/core/liquid/index.ts';

const C = (t: number) => t + 273.15;

/** Reference tables use slightly other densities. */
const MOLE_FRACTION_RELATIVE = 5e-3;
/** Fit error of the excess volume. */
const METHANOL_DENSITY_RELATIVE = 1e-3;
const PROPANOL_DENSITY_RELATIVE = 4e-3;
/** Two measured densities, each to 0.1 %. */
const CONTRACTION_ABSOLUTE = 0.002;
/** Model errors as the liquids reference states them. */
const ACETONITRILE_VISCOSITY_RELATIVE = 0.06;
const ACETONITRILE_DILUTE_VISCOSITY_RELATIVE = 0.05;
const METHANOL_VISCOSITY_RELATIVE = 0.04;
const PROPANOL_VISCOSITY_RELATIVE = 0.08;
const METHANOL_TENSION_RELATIVE = 0.03;
const OTHER_TENSION_RELATIVE = 0.05;
const METHANOL_PERMITTIVITY_RELATIVE = 0.03;
const PH_SHIFT_ABSOLUTE = 0.01;
/** Fit of the van Laar constants to UNIFAC pressures (1 %), rounded tables. */
const VAPOUR_RELATIVE = 0.015;
const VAPOUR_SHARE_ABSOLUTE = 0.04;
/** The Connors-Wright form has a false shallow minimum no deeper than this. */
const FALSE_MINIMUM_N_M = 0.6e-3;
/** The ends are the pure formulas. */
const EXACT_RELATIVE = 1e-12;

function near(value: number, expected: number, relative: number) {
  expect(Math.abs(value / expected - 1)).toBeLessThan(relative);
}

describe('volumes', () => {
  // Snyder, Kirkland, Dolan 2010, appendix I, through an open data file; computed 0.2558 and 0.3082.
  it('mole fraction at 50 % by volume', () => {
    near(moleFraction('acetonitrile', 0.5), 0.2549, MOLE_FRACTION_RELATIVE);
    near(moleFraction('methanol', 0.5), 0.3072, MOLE_FRACTION_RELATIVE);
  });
  // CRC Handbook, concentrative properties of aqueous solutions, 20 °C.
  it('methanol density, 50 % by mass, 20 °C', () => {
    near(
      mixtureDensity('methanol', volumeFractionOfMass('methanol', 0.5), C(20)),
      915.6,
      METHANOL_DENSITY_RELATIVE,
    );
  });
  // NIST density archive, 10.1021/je700700f.
  it('2-propanol density, x = 0.1008, 25 °C', () => {
    near(
      mixtureDensity('2-propanol', volumeFractionOfMoles('2-propanol', 0.1008), C(25)),
      953.6,
      PROPANOL_DENSITY_RELATIVE,
    );
  });
  // From CRC densities, computed.
  it('50:50 methanol shrinks by 3.5 %', () => {
    expect(Math.abs(contraction('methanol', 0.5) + 0.035)).toBeLessThan(CONTRACTION_ABSOLUTE);
  });
});

describe('viscosity', () => {
  // Collected measured viscosities (open mixture benchmark), 25 and 37.5 °C.
  it.each([
    [25, 0.561],
    [37.5, 0.486],
  ])('acetonitrile x = 0.5 at %f °C', (t, mPa_s) => {
    near(
      mixtureViscosity('acetonitrile', volumeFractionOfMoles('acetonitrile', 0.5), C(t)),
      mPa_s * 1e-3,
      ACETONITRILE_VISCOSITY_RELATIVE,
    );
  });
  // Snyder, Kirkland, Dolan 2010, appendix I.
  it('acetonitrile 20 % at 25 °C', () => {
    near(mixtureViscosity('acetonitrile', 0.2, C(25)), 0.98e-3, ACETONITRILE_DILUTE_VISCOSITY_RELATIVE);
  });
  // Snyder, Kirkland, Dolan 2010, appendix I; CRC Handbook, 20 °C.
  it('methanol', () => {
    near(mixtureViscosity('methanol', 0.5, C(25)), 1.62e-3, METHANOL_VISCOSITY_RELATIVE);
    near(
      mixtureViscosity('methanol', volumeFractionOfMass('methanol', 0.4), C(20)),
      1.837e-3,
      METHANOL_VISCOSITY_RELATIVE,
    );
  });
  // CRC Handbook, 20 °C; collected measured viscosities, 25 °C.
  it('2-propanol', () => {
    near(
      mixtureViscosity('2-propanol', volumeFractionOfMass('2-propanol', 0.2), C(20)),
      2.55e-3,
      PROPANOL_VISCOSITY_RELATIVE,
    );
    near(
      mixtureViscosity('2-propanol', volumeFractionOfMoles('2-propanol', 0.167), C(25)),
      2.95e-3,
      PROPANOL_VISCOSITY_RELATIVE,
    );
  });
  it('has its maximum where it is known to be', () => {
    const top = (organic: (typeof ORGANICS)[number]) => {
      let best = 0;
      for (let f = 0; f <= 1; f += 0.01) {
        if (mixtureViscosity(organic, f, C(25)) > mixtureViscosity(organic, best, C(25))) best = f;
      }
      return best;
    };
    const found = ORGANICS.map(top);
    const expected = [
      [0.15, 0.25],
      [0.4, 0.5],
      [0.45, 0.6],
    ] as const;
    expect(found).toHaveLength(expected.length);
    expected.forEach(([low, high], i) => {
      expect(found[i]).toBeGreaterThanOrEqual(low);
      expect(found[i]).toBeLessThanOrEqual(high);
    });
  });
});

describe('surface tension', () => {
  // Vazquez, Alvarez, Navaza 1995, J. Chem. Eng. Data 40, 611, from memory.
  it('alcohols at 25 °C', () => {
    near(
      mixtureSurfaceTension('methanol', volumeFractionOfMass('methanol', 0.5), C(25)),
      32.86e-3,
      METHANOL_TENSION_RELATIVE,
    );
    near(
      mixtureSurfaceTension('2-propanol', volumeFractionOfMass('2-propanol', 0.2), C(25)),
      30.57e-3,
      OTHER_TENSION_RELATIVE,
    );
  });
  // CRC Handbook, surface tension of aqueous mixtures, 20 °C, from memory.
  it.each([
    [0.2, 40.2],
    [0.5, 30.6],
  ])('acetonitrile %f by mass at 20 °C', (w, mN_m) => {
    near(
      mixtureSurfaceTension('acetonitrile', volumeFractionOfMass('acetonitrile', w), C(20)),
      mN_m * 1e-3,
      OTHER_TENSION_RELATIVE,
    );
  });
  it('never rises with organic by more than the false minimum', () => {
    let checked = 0;
    for (const organic of ORGANICS) {
      for (const t of [15, 25, 40]) {
        let least = Number.POSITIVE_INFINITY;
        for (let f = 0; f <= 1; f += 0.02) {
          const value = mixtureSurfaceTension(organic, f, C(t));
          least = Math.min(least, value);
          expect(value - least).toBeLessThan(FALSE_MINIMUM_N_M);
          checked += 1;
        }
      }
    }
    expect(checked).toBeGreaterThan(400);
  });
});

describe('permittivity, pH shift, vapour', () => {
  // Albright, Gosting 1946, J. Am. Chem. Soc. 68, 1061, from memory.
  it('methanol 50 % by mass, 25 °C', () => {
    near(
      mixturePermittivity('methanol', volumeFractionOfMass('methanol', 0.5), C(25)),
      56.3,
      METHANOL_PERMITTIVITY_RELATIVE,
    );
  });
  // Kazakevich, LoBrutto 2007, table 4-5, read (abstract).
  it('pH shift of methanol, x = 0.4', () => {
    expect(Math.abs(methanolPHShift(0.4) - 0.18)).toBeLessThan(PH_SHIFT_ABSOLUTE);
  });
  // UNIFAC, 25 °C, computed elsewhere: total pressure [Pa], organic share of the vapour.
  it.each([
    ['acetonitrile', 0.0368, 7536, 0.59],
    ['acetonitrile', 0.256, 13170, 0.78],
    ['acetonitrile', 0.8, 12847, 0.8],
    ['methanol', 0.1, 5855, 0.51],
    ['methanol', 0.5, 11365, 0.83],
    ['2-propanol', 0.0368, 5503, 0.44],
    ['2-propanol', 0.5, 6454, 0.58],
  ] as const)('vapour over %s, x = %f', (organic, x, pa, share) => {
    const { organic_Pa, water_Pa } = vapourOver(organic, volumeFractionOfMoles(organic, x), C(25));
    near(organic_Pa + water_Pa, pa, VAPOUR_RELATIVE);
    expect(Math.abs(organic_Pa / (organic_Pa + water_Pa) - share)).toBeLessThan(VAPOUR_SHARE_ABSOLUTE);
  });
});

describe('ends', () => {
  it.each(ORGANICS)('every model with %s returns the pure values', (organic) => {
    const t = C(31);
    const pairs = [
      [mixtureDensity(organic, 0, t), waterDensity(t)],
      [mixtureDensity(organic, 1, t), organicDensity(organic, t)],
      [mixtureViscosity(organic, 0, t), waterViscosity(t)],
      [mixtureViscosity(organic, 1, t), organicViscosity(organic, t)],
      [mixtureSurfaceTension(organic, 0, t), waterSurfaceTension(t)],
      [mixtureSurfaceTension(organic, 1, t), organicSurfaceTension(organic, t)],
      [mixturePermittivity(organic, 0, t), waterPermittivity(t)],
      [mixturePermittivity(organic, 1, t), organicPermittivity(organic, t)],
      [mixtureVapourPressure(organic, 0, t), waterVapourPressure(t)],
      [mixtureVapourPressure(organic, 1, t), organicVapourPressure(organic, t)],
    ] as const;
    for (const [value, pure] of pairs) near(value, pure, EXACT_RELATIVE);
  });
});
