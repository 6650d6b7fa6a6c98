/**
 * Pulsation and jets against statements from outside. Marginean et al. 2006, Appl. Phys. Lett. 89:064104, read (abstract): the charged-drop mode
 * describes the pulsation with 57 % of the Rayleigh charge at 65 µm and 74 % at 50 µm; kHz computed with γ 0.0349 N/m, ρ 910 kg/m³.
 * Square-root staircase of n equal jets at shared flow: computed from I ∝ sqrt(Q).
 */
import { describe, expect, it } from 'vitest';
import { currentConsensus } from '../../src/core/jet/index.ts';
import { naturalFrequency, onePole, pulsationRange, rayleighShareAt } from '../../src/core/signal/index.ts';
import { NL_MIN, UM } from '../../src/core/units.ts';
import { readFlowWalk, resistorReading } from '../../src/evidence/current/index.ts';
import { squareRootStep } from '../../src/evidence/current/regimes.ts';
import { expectWithin } from '../within.ts';

const mixture = { surfaceTension: 0.0349, density: 910 };
const liquid = { surfaceTension: 0.033, density: 900, conductivity: 0.02, permittivity: 57 };
const PRINTED = { relative: 0.005, reason: 'worked numbers are printed to three figures' };

describe('the natural frequency', () => {
  it.each([
    [65, 0.57, 4370],
    [50, 0.74, 5300],
  ])('at %d µm and %d of the Rayleigh charge', (radius, share, frequency) => {
    expectWithin(naturalFrequency(mixture, radius * UM, share), frequency, PRINTED);
    expectWithin(rayleighShareAt(mixture, radius * UM, frequency)!, share, {
      relative: 0.01,
      reason: 'a share is steep in the frequency',
    });
  });

  it('falls as radius to the power -3/2, to the published radii and down to small emitters', () => {
    const ratio = naturalFrequency(mixture, 5 * UM, 0) / naturalFrequency(mixture, 65 * UM, 0);
    expectWithin(ratio, 13 ** 1.5, { relative: 1e-9, reason: 'an identity' });
  });

  it.each([
    [15, 46.9, 20.5],
    [10, 86, 38],
    [5, 244, 106],
  ])('W/ACN, %d µm: %d kHz uncharged, %d kHz at 0.9', (radius, high, low) => {
    const range = pulsationRange(liquid, radius * UM);
    expectWithin(range.high / 1e3, high, { relative: 0.01, reason: 'printed to two or three figures' });
    expectWithin(range.low / 1e3, low, { relative: 0.02, reason: 'printed to two or three figures' });
  });

  it('is choked below the minimum flow', () => {
    expect(pulsationRange(liquid, 10 * UM, 0.1).low / pulsationRange(liquid, 10 * UM).low).toBeCloseTo(
      0.1,
      9,
    );
  });
});

describe('several jets at a shared flow', () => {
  it.each([2, 3, 4])('%d jets carry its square root', (n) => {
    const one = currentConsensus(liquid, 300 * NL_MIN);
    const shared = n * currentConsensus(liquid, (300 * NL_MIN) / n);
    expectWithin(shared / one, Math.sqrt(n), { relative: 1e-9, reason: 'an identity' });
    expect(squareRootStep(shared / one)).toBe(true);
  });

  it('other steps are none', () => {
    for (const ratio of [1.05, 1.31, 1.55, 1.85, 2.5]) expect(squareRootStep(ratio)).toBe(false);
  });
});

it('the current law gives back its exponent and its conductivity', () => {
  const steps = [50, 100, 200, 400, 800].map((flow_nL_min) => ({
    flow_nL_min,
    current_nA: currentConsensus(liquid, flow_nL_min * NL_MIN) * 1e9,
  }));
  const walk = readFlowWalk(steps, undefined, { value: 0.033, low: 0.032, high: 0.034 });
  expectWithin(walk.exponent!.value, 0.5, { relative: 1e-6, reason: 'least squares on exact powers' });
  expectWithin(walk.conductivity_S_m!.value, 0.02, { relative: 1e-6, reason: 'the law inverted' });
  // (2.4/2.6)² and (2.4/2.0)² are the band of the coefficient.
  expectWithin(walk.conductivity_S_m!.high / 0.02, 1.44, {
    relative: 0.02,
    reason: 'the surface tension adds a little',
  });
});

it('4.7 MΩ: 0.94 V at 200 nA; 0.3 to 3.4 kHz with 100 to 10 pF', () => {
  expectWithin(resistorReading({ resistor_MOhm: 4.7, current_nA: 200 }).lost_V!, 0.94, PRINTED);
  expectWithin(onePole(4.7e6, 1e-10), 339, PRINTED);
  expectWithin(onePole(4.7e6, 1e-11), 3386, PRINTED);
});
