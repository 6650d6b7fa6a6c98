/**
 * Scaling laws and the Rayleigh limit against worked numbers. Sources: the laws named in src/core/jet (coefficients from
 * memory, forms partly read (abstract)); numbers computed for γ 0.033 N/m, ρ 900 kg/m³, εr 57, K 0.020 S/m.
 */
import { describe, it } from 'vitest';
import { ELEMENTARY_CHARGE } from '../../src/core/constants.ts';
import { liquidResistance, straightResistance, taperedResistance } from '../../src/core/feed/index.ts';
import {
  currentFdlm,
  currentGananCalvo,
  currentHartman,
  dropletDiameter,
  jetDiameter,
  jetScales,
  minimumFlow,
  rayleighCharge,
  rayleighDiameter,
} from '../../src/core/jet/index.ts';
import { BAR, NA, NL_MIN, NM } from '../../src/core/units.ts';
import { expectWithin } from '../within.ts';

const liquid = { surfaceTension: 0.033, density: 900, conductivity: 0.02, permittivity: 57 };
const PRINTED = { relative: 0.005, reason: 'worked numbers are printed to three figures' };

describe('cone-jet scales', () => {
  it('Q0, I0, d0', () => {
    const scales = jetScales(liquid);
    expectWithin(scales.flow / NL_MIN, 0.974, PRINTED);
    expectWithin(scales.current / NA, 3.273, PRINTED);
    expectWithin(scales.diameter / NM, 19.3, PRINTED);
    expectWithin(minimumFlow(liquid).high / NL_MIN, 55.5, PRINTED);
  });
});

describe('current laws', () => {
  it.each([
    [20, 35.4, 38.6, 32.2],
    [50, 55.9, 61.0, 50.9],
    [300, 137, 149, 125],
    [1000, 250, 273, 228],
  ])('%s nL/min', (flow, fdlm, ganan, hartman) => {
    expectWithin(currentFdlm(liquid, flow * NL_MIN) / NA, fdlm, PRINTED);
    expectWithin(currentGananCalvo(liquid, flow * NL_MIN) / NA, ganan, PRINTED);
    expectWithin(currentHartman(liquid, flow * NL_MIN) / NA, hartman, PRINTED);
  });
});

describe('jet and droplet size', () => {
  it.each([
    [50, 129, 219],
    [300, 316, 477],
    [1000, 577, 712],
  ])('%s nL/min', (flow, jet, droplet) => {
    expectWithin(jetDiameter(liquid, flow * NL_MIN) / NM, jet, PRINTED);
    expectWithin(dropletDiameter(liquid, flow * NL_MIN).diameter / NM, droplet, PRINTED);
  });

  it('the Rayleigh cap at 50 nL/min', () => {
    expectWithin(
      rayleighDiameter(0.033, 50 * NL_MIN, currentHartman(liquid, 50 * NL_MIN)) / NM,
      283,
      PRINTED,
    );
  });
});

describe('Rayleigh limit of water droplets (Rayleigh 1882; computed)', () => {
  it.each([
    [1e-6, 125248],
    [100e-9, 3961],
    [10e-9, 125.2],
  ])('r %s m', (radius, charges) => {
    expectWithin(rayleighCharge(0.072, radius) / ELEMENTARY_CHARGE, charges, {
      relative: 0.0005,
      reason: 'four to six figures printed',
    });
  });
});

describe('feed', () => {
  it('Hagen–Poiseuille, straight and tapered (computed)', () => {
    expectWithin((straightResistance(0.82e-3, 0.01, 20e-6) * 300 * NL_MIN) / BAR, 0.104, PRINTED);
    expectWithin((taperedResistance(0.82e-3, 3e-3, 10e-6, 75e-6) * 300 * NL_MIN) / BAR, 0.026, {
      relative: 0.02,
      reason: 'two figures printed',
    });
  });

  it('a taper equals many short straight pieces', () => {
    const n = 2000;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += straightResistance(1e-3, 3e-3 / n, 10e-6 + (65e-6 * (i + 0.5)) / n);
    expectWithin(taperedResistance(1e-3, 3e-3, 10e-6, 75e-6), sum, {
      relative: 1e-5,
      reason: 'midpoint sum of 2000 pieces',
    });
  });

  it('ohmic resistance of a 20 µm bore, 50 mm, 0.020 S/m: 8.0e9 ohm (computed)', () => {
    expectWithin(liquidResistance(0.02, [{ bore: 20e-6, length: 0.05, openFraction: 1 }]), 8.0e9, {
      relative: 0.01,
      reason: 'two figures printed',
    });
  });
});
