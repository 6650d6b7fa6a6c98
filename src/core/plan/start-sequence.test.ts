import { describe, expect, it } from 'vitest';
import { madeDraws } from '../../../test/kit/made-draws.ts';
import { estimate } from '../estimate.ts';
import { alongGradient } from '../gradient/index.ts';
import type { Setup } from '../setup.ts';
import { type StartNumbers, type StartSequence, startSequence } from './start-sequence.ts';

const judged = { basis: 'made', sources: ['made'] };
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
    temperature_C: 25,
  },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 2.5, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'tip', column: [] },
};
const numbers: StartNumbers = {
  onset_V: estimate(1000, 730, 1300, judged),
  advised_supply_V: estimate(1234, 1000, 1500, judged),
  advice_withheld: null,
  feed_pressure_bar: estimate(1.8, 1.2, 2.5, judged),
  current_nA: estimate(150, 120, 190, judged),
  supplyLimit_V: 5000,
};

function step(sequence: StartSequence, title: string) {
  const found = [...sequence.start, ...sequence.park].find((s) => s.title.startsWith(title));
  if (found === undefined) throw new RangeError(`missing step ${title}`);
  return found;
}

function words(sequence: StartSequence): string {
  return JSON.stringify(sequence);
}

describe('start sequence', () => {
  it('puts voltage before flow, under the least onset, and raises only with a yes', () => {
    const sequence = startSequence(setup, numbers);
    const titles = sequence.start.map((s) => s.title);
    expect(titles).toEqual([
      'Look at the tip',
      'Dry leak check',
      'Pressure of the emitter alone, voltage off',
      'Voltage before flow',
      'Flow on',
      'Raise in steps',
      'Let it stand',
    ]);
    expect(step(sequence, 'Voltage before').action).toMatch(/set 700 V/);
    expect(step(sequence, 'Raise').action).toMatch(/by 50 V.*about 1230 V/);
    expect(step(sequence, 'Pressure').expect).toMatch(
      /1.8 bar \(1.2 bar to 2.5 bar\).*5 bar or more: clogged/,
    );
    const wide = startSequence(setup, {
      ...numbers,
      feed_pressure_bar: estimate(0.005, 0.002, 0.01, judged),
    });
    expect(step(wide, 'Pressure').expect).toMatch(/too little to read.*0.2 bar or more: clogged/);
    for (const s of sequence.start) {
      expect(s.caution.length).toBeGreaterThan(10);
      if (/raise/i.test(s.action)) expect(s.asks_for_yes).toBe(true);
    }
    expect(words(sequence)).toMatch(/Local rules and trained staff come first; interlocks stay/);
  });

  it('parks with the voltage read as 0, the flow off and the tip in liquid', () => {
    const longer = step(startSequence(setup, numbers), 'Longer');
    expect(longer.action).toMatch(/supply to 0 V, read it back, wait, ground/);
    expect(longer.action).not.toMatch(/salt out/);
    const salt: Setup = {
      ...setup,
      liquid: {
        ...setup.liquid,
        additive: 'ammonium acetate',
        additive_percent: undefined,
        additive_mM: 100,
      },
    };
    expect(step(startSequence(salt, numbers), 'Longer').action).toMatch(/flush the salt out/);
  });

  it('warns of corona in negative polarity, and of a live inlet', () => {
    const negative = startSequence(
      { ...setup, polarity: 'negative', inlet: { ...setup.inlet, potential_V: 300 } },
      numbers,
    );
    expect(step(negative, 'Raise').caution).toMatch(/corona comes first/);
    expect(step(negative, 'Voltage before').expect).toMatch(/a current without flow is a discharge/);
    // The inlet at +300 V already holds 300 V against a negative tip.
    expect(step(negative, 'Voltage before').action).toMatch(/set 400 V/);
    expect(step(negative, 'Look').caution).toMatch(/live with the emitter supply at 0 V/);
    expect(words(startSequence(setup, numbers))).not.toMatch(/corona/);
  });

  it('advises no voltage above the limit', () => {
    const high = startSequence(setup, { ...numbers, advised_supply_V: estimate(5600, 5000, 6000, judged) });
    const withheld = startSequence(setup, { ...numbers, advice_withheld: 'the flow is below the minimum' });
    expect(step(withheld, 'Raise').action).toMatch(/No supply can be advised/);
    expect(step(high, 'Raise')).toMatchObject({ asks_for_yes: false });
    expect(step(high, 'Raise').action).toMatch(/No supply can be advised/);
    expect(words(high)).not.toMatch(/56\d\d V/);
  });

  it('opens the gas of a static feed instead of a pump', () => {
    const still = startSequence({ ...setup, feed: { kind: 'static', back_pressure_mbar: 300 } }, numbers);
    expect(step(still, 'Gas pressure').action).toMatch(/300 mbar/);
    expect(words(still)).not.toMatch(/nL\/min/);
  });

  it('along a gradient takes the first voltage of the ramp, walks at three compositions, enters the table', () => {
    const gradient = alongGradient({
      gradient: {
        bottle_A_organic_percent: 0,
        bottle_B_organic_percent: 80,
        organic: 'acetonitrile',
        table: [
          { time_min: 0, percent_B: 5 },
          { time_min: 60, percent_B: 50 },
        ],
      },
      flow_nL_min: 300,
      conditionsAt: (x) =>
        madeDraws({ count: 20, onset_V: 1000 - 6 * x, spread: 0.05, steady: 1.1, tilt: 1.3 }),
      inletSide_V: 0,
      supplyLimit_V: 5000,
      contactRadius_um: 10,
      moments: 60,
    });
    const sequence = startSequence(setup, { ...numbers, gradient });
    expect(gradient.ramp.steps.length).toBeGreaterThan(1);
    expect(step(sequence, 'Raise').action).toContain(`about ${gradient.ramp.steps[0]!.supply_V} V`);
    expect(step(sequence, 'Walk').action.match(/% organic/g)).toHaveLength(3);
    expect(step(sequence, 'Walk').expect).toMatch(/says nothing of another/);
    expect(step(sequence, 'Enter the ramp').asks_for_yes).toBe(true);
  });
});
