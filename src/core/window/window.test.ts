import { describe, expect, it } from 'vitest';
import { estimateFactor } from '../estimate.ts';
import { loadCurrent } from '../feed/index.ts';
import { meniscusOnset } from '../meniscus/index.ts';
import { normalQuantile } from '../numeric/normal.ts';
import { contactRadiusOf, EIGHTY, factorOf, priorBelief } from './belief.ts';
import { calibrated, sibling } from './calibrate.ts';
import { bestVoltage, voltageGrid, windowChances } from './chances.ts';
import { CORONA_INCEPTION, inceptionTension, ionisationIntegral } from './corona.ts';
import { likelihoods } from './likelihood.ts';
import { shapeFactorOfTaper } from './onset-closed.ts';
import { tipOnset, unitOnset } from './tip-onset.ts';
import type { TipGeometry } from './tip-solves.ts';
import { type Draws, priorDraws, UNKNOWNS } from './unknowns.ts';
import { type WindowCondition, windowDraws } from './window-draws.ts';

const STRAIGHT: TipGeometry = {
  boreRadius: 10e-6,
  rimRadius: 15e-6,
  taper: 0,
  shankRadius: 15e-6,
  length: 10e-3,
  distance: 3e-3,
  place: 'inner edge',
};
const known = (value: number, factor: number) =>
  estimateFactor(value, factor, { basis: 'test', sources: ['test'] });

function condition(change: Partial<WindowCondition> = {}): WindowCondition {
  return {
    tip: tipOnset(STRAIGHT),
    liquid: {
      surface_tension_mN_m: known(50, 1.03),
      conductivity_S_m: known(0.03, 1.4),
      density_kg_m3: known(950, 1.01),
      permittivity_relative: known(70, 1.02),
    },
    flow_nL_min: known(300, 1.05),
    polarity: 'positive',
    pressure: 0,
    oblique: false,
    column: [{ bore: 20e-6, length: 10e-3, openFraction: 1 }],
    ...change,
  };
}

describe('onset of one tip', () => {
  it('is the solver at its places, and follows the pressure within 1.5 % of direct solves from -1 to 1', () => {
    const PARABOLA = 0.016; // three solves carry the curve of V against P
    const tip = tipOnset(STRAIGHT);
    for (const P of [-1, -0.5, 0, 0.5, 1]) {
      const direct = meniscusOnset({
        rimRadius: 1.5,
        taperHalfAngle: 0,
        shankRadius: 1.5,
        length: 1000,
        distance: 300,
        hold: { kind: 'pressure', pressure: P },
      });
      if (direct.kind !== 'onset') throw new Error(direct.kind);
      const unit = Math.sqrt(10e-6 / 8.8541878188e-12);
      expect(Math.abs(unitOnset(tip, 10e-6, P) / (direct.V_star * unit) - 1)).toBeLessThan(PARABOLA);
    }
  });

  it('solves each place of the contact line once, and one place where they coincide', () => {
    expect(tipOnset(STRAIGHT).places.map(({ place }) => place)).toEqual(['inner edge', 'outer edge']);
    const knife = tipOnset({
      ...STRAIGHT,
      boreRadius: 14.9e-6,
      place: 'outer edge',
      shankRadius: 180e-6,
      taper: 0.14,
    });
    expect(knife.places.map(({ place }) => place)).toEqual(['outer edge', 'flooded shank']);
    expect(tipOnset(STRAIGHT)).toBe(tipOnset({ ...STRAIGHT }));
  });

  it('falls back on the closed form and says so where the solver cannot answer', () => {
    const near = tipOnset({ ...STRAIGHT, distance: 20e-6 });
    expect(near.solved.kind).toBe('solver failed');
    expect(near.places.some(({ from }) => from === 'closed form')).toBe(true);
    expect(unitOnset(near, 10e-6, 0)).toBeGreaterThan(0);
  });
});

describe('corona ahead of the cone', () => {
  it('gives the integral worked out elsewhere: water 5.4 at 10 µm, 9.7 at 50 µm; γ 0.033: 3.5 at 10 µm (computed)', () => {
    const ROUNDED = 0.06; // printed to one decimal
    for (const [tension, R, K] of [
      [0.072, 2.5e-6, 2.2],
      [0.072, 10e-6, 5.4],
      [0.072, 50e-6, 9.7],
      [0.033, 10e-6, 3.5],
      [0.033, 100e-6, 5.0],
    ] as const)
      expect(Math.abs(ionisationIntegral(tension, R) - K)).toBeLessThan(ROUNDED);
  });

  it('reaches inception where the integral is 9.2, never below a tip too small for it', () => {
    expect(ionisationIntegral(inceptionTension(20e-6), 20e-6)).toBeCloseTo(CORONA_INCEPTION, 6);
    expect(inceptionTension(1e-6)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('draws', () => {
  it('are stratified: each unknown has the quantiles of a standard normal', () => {
    const draws = priorDraws(1000, 7);
    for (const name of UNKNOWNS) {
      const sorted = Float64Array.from(draws[name]).sort();
      for (const share of [0.1, 0.5, 0.9])
        expect(Math.abs(sorted[Math.floor(share * 1000)]! - normalQuantile(share))).toBeLessThan(0.02);
    }
    expect(priorDraws(1000, 7).contact).toEqual(draws.contact);
  });

  it('keep the 80 % range of what went in', () => {
    const e = known(2, 1.5);
    expect(factorOf(e, normalQuantile(0.9))).toBeCloseTo(1.5, 6);
    expect(factorOf(e, normalQuantile(0.1))).toBeCloseTo(1 / 1.5, 6);
  });

  it('put the contact line at its place, or outward of it, never beyond the places there are', () => {
    const tip = tipOnset(STRAIGHT);
    for (let share = 0.01; share < 1; share += 0.01) {
      const radius = contactRadiusOf(tip, normalQuantile(share));
      expect(radius).toBeGreaterThan(0.94 * 10e-6);
      expect(radius).toBeLessThan(15.01e-6);
    }
  });

  it('give a wider onset for a wider surface tension, and a discharge that cuts the window', () => {
    const spread = (values: Float64Array) => {
      const sorted = Float64Array.from(values).sort();
      return sorted[900]! / sorted[100]!;
    };
    const sharp = windowDraws(priorBelief(), condition());
    const vague = windowDraws(
      priorBelief(),
      condition({ liquid: { ...condition().liquid, surface_tension_mN_m: known(50, 1.5) } }),
    );
    expect(spread(vague.onset_V)).toBeGreaterThan(spread(sharp.onset_V));
    const chances = windowChances(sharp, voltageGrid(sharp));
    const best = bestVoltage(chances);
    expect(best.probability).toBeGreaterThan(0.2);
    expect(best.probability).toBeLessThan(1);
  });
});

describe('the taper as built', () => {
  /** Onset when every unknown stands in its middle but the taper, over the onset when that does too. */
  const shift = (geometry: TipGeometry, z: number) => {
    const middle = Object.fromEntries(UNKNOWNS.map((name) => [name, Float64Array.of(0)])) as Draws;
    const at = condition({ tip: tipOnset(geometry) });
    const onset = (draws: Draws) =>
      windowDraws({ draws, count: 1, observations: 0, support: 1 }, at).onset_V[0]!;
    return onset({ ...middle, taper: Float64Array.of(z) }) / onset(middle);
  };
  const tapered: TipGeometry = { ...STRAIGHT, taper: (8 * Math.PI) / 180, shankRadius: 180e-6 };
  const DIGITS = 9; // the same arithmetic

  it('reaches at 80 % from a straight wire to twice the stated half-angle', () => {
    expect(shift(tapered, -EIGHTY)).toBeCloseTo(shapeFactorOfTaper(0) / shapeFactorOfTaper(8), DIGITS);
    expect(shift(tapered, EIGHTY)).toBeCloseTo(shapeFactorOfTaper(16) / shapeFactorOfTaper(8), DIGITS);
  });

  it('covers what the solver says of the straight wire', () => {
    const SLACK = 1.05; // the shape factors follow the solver within 5 % here
    const volts = (geometry: TipGeometry) => unitOnset(tipOnset(geometry), geometry.rimRadius, 0);
    const wire = volts({ ...STRAIGHT, place: 'outer edge' }) / volts({ ...tapered, place: 'outer edge' });
    expect(shift({ ...tapered, place: 'outer edge' }, -EIGHTY)).toBeLessThan(wire * SLACK);
    expect(shift({ ...tapered, place: 'outer edge' }, -EIGHTY)).toBeGreaterThan(wire / SLACK ** 2);
  });

  it('leaves a wire only upwards, and a flooded shank not at all', () => {
    expect(shift(STRAIGHT, -EIGHTY)).toBeCloseTo(1, DIGITS);
    expect(shift(STRAIGHT, EIGHTY)).toBeGreaterThan(1.1);
    expect(shift({ ...tapered, place: 'flooded shank' }, -EIGHTY)).toBeCloseTo(1, DIGITS);
  });
});

describe('likelihood', () => {
  it('lets a current read beside a wrongly named regime still speak', () => {
    const at = condition();
    const belief = priorBelief(400, 3);
    const window = windowDraws(belief, at);
    const radii = belief.draws.contact.map((z) => contactRadiusOf(at.tip, z));
    const volts = 1.3 * Math.max(...window.onset_V);
    const current = window.current_A.map((I, i) =>
      loadCurrent({ onset: window.onset_V[i]!, current: I }, volts),
    );
    // A regime that cannot be in any draw; the current is that of draw 0.
    const seen = { tip_V: volts, seen: 'no spray', current_nA: current[0]! / 1e-9 } as const;
    const { p } = likelihoods(window, radii, at.tip, 0, seen);
    const far = current.findIndex((I) => I > 1.6 * current[0]! || I < current[0]! / 1.6);
    expect(far).toBeGreaterThan(0);
    expect(p[0]! / p[far]!).toBeGreaterThan(50);
  });
});

describe('calibration', () => {
  const at = (seen: Parameters<typeof calibrated>[0][number]['seen']) => ({
    condition: condition(),
    inletSide_V: 0,
    seen,
  });
  const median = (values: Float64Array) => Float64Array.from(values).sort()[Math.floor(values.length / 2)]!;

  it('moves the onset to where it was seen, and the window of another liquid with it', () => {
    const prior = windowDraws(priorBelief(), condition());
    const seen_V = 1.25 * median(prior.onset_V);
    const belief = calibrated([at({ tip_V: seen_V, seen: 'onset here' })]);
    expect(Math.abs(median(windowDraws(belief, condition()).onset_V) / seen_V - 1)).toBeLessThan(0.05);
    const other = condition({ liquid: { ...condition().liquid, surface_tension_mN_m: known(30, 1.03) } });
    const moved =
      median(windowDraws(belief, other).onset_V) / median(windowDraws(priorBelief(), other).onset_V);
    expect(moved).toBeGreaterThan(1.1);
  });

  it('keeps a sample alive through five observations, and a sibling is less sure', () => {
    const five = [1100, 1150, 1200, 1250, 1300].map((tip_V) => at({ tip_V, seen: 'steady' }));
    const belief = calibrated(five);
    expect(new Set(belief.draws.contact).size).toBe(belief.count);
    expect(belief.support).toBeGreaterThan(0.4);
    const spread = (values: Float64Array) => {
      const sorted = Float64Array.from(values).sort();
      return sorted[900]! / sorted[100]!;
    };
    const onset = calibrated([
      at({ tip_V: 1200, seen: 'onset here' }),
      at({ tip_V: 1250, seen: 'onset here' }),
    ]);
    expect(spread(windowDraws(sibling(onset), condition()).onset_V)).toBeGreaterThan(
      spread(windowDraws(onset, condition()).onset_V),
    );
  });

  it('takes an apex height: a low apex at a voltage says the onset is further up', () => {
    const belief = (height_um: number) =>
      median(
        windowDraws(
          calibrated([at({ tip_V: 900, seen: 'no spray', apex_height_um: height_um })]),
          condition(),
        ).onset_V,
      );
    expect(belief(1)).toBeGreaterThan(belief(4));
  });
});
