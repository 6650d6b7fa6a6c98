import { describe, expect, it } from 'vitest';
import type { Setup } from '../setup.ts';
import { planFor, planText } from './index.ts';

/** γ of pure water at 25 °C is 72.0 mN/m: on a contact line of 10 µm radius a meniscus bears 2 γ/a = 144 mbar. */
const MOST_MBAR = 144;
/** Share of the pressure by which a number printed to four figures may differ. */
const PRINTED = 0.02;

function held(back_pressure_mbar: number, wets: Setup['emitter']['wets'] = 'rim'): Setup {
  return {
    emitter: {
      bore_um: 10,
      rim_um: 20,
      taper_half_angle_deg: 8,
      shank_diameter_um: 360,
      free_length_mm: 10,
      material: 'glass',
      inside: 'widens',
      wets,
    },
    liquid: {
      acetonitrile_percent: 0,
      methanol_percent: 0,
      propanol_2_percent: 0,
      additive: 'ammonium acetate',
      additive_mM: 10,
      temperature_C: 25,
    },
    feed: { kind: 'static', back_pressure_mbar },
    polarity: 'positive',
    inlet: { distance_mm: 2, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
    voltage: { contact: 'tip', column: [], supply_V: 1500 },
  };
}

describe('a feed that no meniscus bears', () => {
  const plan = planFor(held(3 * MOST_MBAR));
  const text = planText(held(3 * MOST_MBAR), plan);

  it('has no equilibrium, with range and probability, and no advice', () => {
    expect(plan.meniscus.kind).toBe('no equilibrium');
    expect(plan.electric_state.kind).toBe('no equilibrium');
    const { over_capillary, no_equilibrium_probability } = plan.held_pressure!;
    expect(Math.abs(over_capillary.value / 6 - 1)).toBeLessThan(PRINTED);
    expect(over_capillary.low).toBeLessThan(over_capillary.value);
    expect(over_capillary.high).toBeGreaterThan(over_capillary.value);
    // One contact line in ten has stayed inside, where the inner edge bears twice as much: some of these still hold.
    expect(no_equilibrium_probability).toBeGreaterThan(0.9);
    expect(plan.advice_withheld).toContain('no equilibrium exists');
    expect(plan.onset_V.valid).toBe(false);
    expect(plan.limited_by).toContain('feed pressure');
  });

  it('is said in words, never as a failed solver, and no step raises gas or voltage towards it', () => {
    expect(text).toContain('The liquid bulges out and drips without field');
    expect(text).toContain('about 144 mbar');
    expect(text).toMatch(/supply for advised +none: no equilibrium exists/);
    expect(text).not.toContain('solver failed');
    const [gas] = plan.sequence.start.filter(({ title }) => title.startsWith('Gas pressure'));
    expect(gas!.action).toMatch(/^Do not raise the gas to 432 mbar/);
    const [raise] = plan.sequence.start.filter(({ title }) => title === 'Raise in steps');
    expect(raise!.action).toContain('No supply can be advised');
    expect(raise!.asks_for_yes).toBe(false);
  });

  it('turns at 2 γ/a of the radius that is wet', () => {
    const kind = (mbar: number, wets?: 'bore') => planFor(held(mbar, wets)).meniscus.kind;
    expect(kind(0.93 * MOST_MBAR)).toBe('solved');
    expect(kind(1.07 * MOST_MBAR)).toBe('no equilibrium');
    expect(kind(1.07 * MOST_MBAR, 'bore')).toBe('solved');
    expect(kind(2.5 * MOST_MBAR, 'bore')).toBe('no equilibrium');
  });

  it('warns where it is not decidable, and says what a meniscus bears where it does', () => {
    const near = planFor(held(0.93 * MOST_MBAR));
    expect(near.held_pressure!.verdict).toBe('not decidable');
    expect(near.warnings.some((line) => line.includes('may bulge out and drip without field'))).toBe(true);
    const far = planFor(held(0.2 * MOST_MBAR));
    expect(far.held_pressure!.verdict).toBe('equilibrium');
    expect(planText(held(0.2 * MOST_MBAR), far)).toContain('a meniscus bears it');
    expect(far.meniscus.kind).toBe('solved');
  });
});

it('a pumped feed holds a flow, not a pressure: it is not asked', () => {
  const pumped = planFor({ ...held(0), feed: { kind: 'pumped', flow_nL_min: 100 } });
  expect(pumped.held_pressure).toBeUndefined();
  expect(pumped.electric_state.kind).not.toBe('no equilibrium');
});
