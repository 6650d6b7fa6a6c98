import { describe, expect, it } from 'vitest';
import { type MadeDraws, madeDraws } from '../../../test/kit/made-draws.ts';
import { expectWithin } from '../../../test/within.ts';
import { randomStream } from '../random.ts';
import type { GradientSpec } from '../setup.ts';
import { type AlongGradientInput, alongGradient } from './along-gradient.ts';
import { rampCsv } from './supply-ramp.ts';

const TABLE: GradientSpec = {
  bottle_A_organic_percent: 0,
  bottle_B_organic_percent: 100,
  organic: 'acetonitrile',
  table: [
    { time_min: 0, percent_B: 0 },
    { time_min: 40, percent_B: 40 },
    { time_min: 44, percent_B: 80 },
    { time_min: 50, percent_B: 80 },
  ],
};
const COUNT = 300;
/** Onset from 1000 V in water to 800 V at 40 %, straight on to 600 V at 80 %. */
const onset = (organic: number) => 1000 - 5 * organic;
const base: Omit<MadeDraws, 'onset_V'> = { count: COUNT, spread: 0.3, steady: 1.1, tilt: 1.6 };
/** 300 evenly spread draws resolve a share to 1/300; a voltage in whole tens moves it by about 1 %. */
const SHARE = 0.015;
/** The middle of all voltages within 2 % of the best share lies 12 V under the exact optimum here. */
const VOLTS = 20;

function planOf(change: Partial<MadeDraws> = {}, input: Partial<AlongGradientInput> = {}) {
  return alongGradient({
    gradient: TABLE,
    flow_nL_min: 300,
    conditionsAt: (x) => madeDraws({ ...base, onset_V: onset(x), ...change }),
    inletSide_V: 0,
    supplyLimit_V: 5000,
    contactRadius_um: 10,
    ...input,
  });
}

/** Paths of numbers that JSON cannot hold. */
function notFinite(value: unknown, path = 'plan'): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => notFinite(inner, `${path}.${key}`));
}

describe('fixed supply', () => {
  it('finds the voltage and the share that paper gives', () => {
    // Draw f holds from 1000 to 800 V of onset while 1.1 f 1000 <= V < 1.6 f 800; f even over 0.7 to 1.3.
    // Best at V = 1.3 · 1100 = 1430: f above 1430/1280 = 1.117, share (1.3 − 1.117)/0.6 = 0.305.
    const { fixed } = planOf();
    expect(Math.abs(fixed.supply_V! - 1430)).toBeLessThan(VOLTS);
    expect(Math.abs(fixed.probability - 0.305)).toBeLessThan(SHARE);
    expect(fixed.verdict).toBe('compromise');
    const failing = fixed.failures.reduce((sum, f) => sum + f.share, 0);
    expectWithin(failing + fixed.probability, 1, { relative: 1e-9, reason: 'every draw holds or fails' });
    // Wash at 600 V of onset: steady from 660 f, tilt from 960 f: at 1430 V none of f < 1.3 stays below its tilt.
    expect(fixed.wash_probability).toBe(0);
    expect(fixed.sentences.join(' ')).toMatch(/costs at the end of the elution, 40 min \(40 % organic\)/);
  });

  it('says no single voltage only under 20 %, and not for want of flow', () => {
    expect(planOf({ tilt: 1.45 }).fixed.verdict).toBe('no single voltage');
    expect(planOf({ tilt: 1.58 }).fixed.verdict).toBe('compromise');
    const starved = planOf({ minimum_flow_m3_s: 6e-12 }).fixed;
    expect(starved.verdict).toBe('flow below the minimum');
    expect(starved.probability).toBe(0);
    expect(Math.abs(starved.voltage_probability - 0.305)).toBeLessThan(SHARE);
  });

  it('holds with certainty where the emitter is known', () => {
    const { fixed, ramp } = planOf({ spread: 0.02 });
    expect(fixed.verdict).toBe('one voltage holds');
    expect(fixed.probability).toBe(1);
    expect(ramp.steps.filter((s) => s.time_min < 40).length).toBe(1);
    expect(ramp.sentences[0]).toMatch(/^No ramp is needed in the elution/);
  });

  it('advises nothing where nothing holds, and gives no number for it', () => {
    // The least draw at the elution's end: 1.1 · 800 · 0.701 = 617 V.
    const plan = planOf({}, { supplyLimit_V: 600 });
    expect(plan.fixed).toMatchObject({ verdict: 'no voltage', supply_V: null, probability: 0 });
    expect(plan.fixed.sentences[0]).toMatch(
      /at least 617 V at the supply, above what may be advised here \(600 V\)/,
    );
    expect(plan.ramp.steps).toEqual([]);
    expect(plan.judged).toMatchObject({ supply_V: 0, which: 'none' });
    expect(notFinite(plan)).toEqual([]);
  });

  it('counts a cone that is only kept, not formed anew, where the drop grows', () => {
    // Kept from 0.9 onset, formed from 1.1 onset; 100 nA through 0.1 GΩ for each per cent.
    const rising = (x: number) =>
      madeDraws({ ...base, onset_V: 1000, tilt: 1.3, resistance_ohm: 1e8 * x, current_A: 100e-9 });
    const { fixed } = planOf({}, { conditionsAt: rising });
    // At 40 % the drop is 400 V: steady 1100 f + about 390 V passes tilt 1300 f at 0 % for every f below 1.95: none holds.
    expect(fixed.probability).toBe(0);
    // Kept: 900 f + about 370 V <= V < 1300 f, so f above 0.925 and V in between; formed from 1100 f.
    expect(fixed.undisturbed_probability).toBeGreaterThan(0);
    expect(planOf().fixed.undisturbed_probability).toBeCloseTo(planOf().fixed.probability, 6);
  });

  it('adds the ohmic drop and the inlet: 100 nA through 2 GΩ and −300 V', () => {
    const plan = planOf({ spread: 0.01, resistance_ohm: 2e9, current_A: 100e-9 }, { inletSide_V: -300 });
    expectWithin(plan.ohmic_drop_V.middle[0]!, 200, { relative: 1e-4, reason: 'I R at 1.2 times onset' });
    expectWithin(plan.ohmic_share.middle[0]!, 200 / 1400, {
      relative: 1e-3,
      reason: 'of 1.2 · 1000 + 200 V',
    });
    // Steady: 1100 V + 200 (1 + 0.25 (1.1 − 1.2)) − 300 V.
    expectWithin(plan.supply_from_V.middle[0]!, 995, { relative: 1e-3, reason: 'supply = tip + I R − 300' });
    expect(plan.sentences.join(' ')).toMatch(/takes 200 V \(14 %\)/);
  });
});

describe('ceilings', () => {
  it('never goes past the supply limit nor the discharge limit', () => {
    // One in ten draws discharges from 1200 V on: the ceiling is where the 10th percentile begins.
    for (const [limit, discharge] of [
      [1300, undefined],
      [5000, 1200],
    ] as const) {
      const plan = planOf(discharge === undefined ? {} : { discharge_V: discharge }, {
        supplyLimit_V: limit,
      });
      const most = discharge ?? limit;
      expect(plan.fixed.supply_V!).toBeLessThanOrEqual(most);
      expect(plan.ramp.steps.length).toBeGreaterThan(0);
      for (const step of plan.ramp.steps) expect(step.supply_V).toBeLessThanOrEqual(most);
      for (const point of plan.walk_at) expect(point.to_V).toBeLessThanOrEqual(most);
      for (const v of plan.best_alone.supply_V) expect(v ?? 0).toBeLessThanOrEqual(most);
    }
  });
});

describe('ceiling of discharge', () => {
  it('stands where one draw in ten discharges', () => {
    const made = (x: number) => ({
      ...madeDraws({ ...base, onset_V: onset(x) }),
      discharge_from_V: Float64Array.from({ length: COUNT }, (_, i) => 1000 + i),
    });
    const plan = planOf({}, { conditionsAt: made });
    expectWithin(plan.ceiling_V[0]!, 1029.9, { relative: 1e-6, reason: '10th percentile of 1000 to 1299 V' });
    expect(plan.fixed.supply_V!).toBeLessThanOrEqual(1029.9);
  });
});

describe('ramp', () => {
  it('keeps the target asked with the fewest steps that paper gives', () => {
    // One emitter: V in [1.1 onset, 1.25 onset). A step may span onset falling by 1.1/1.25: 1000 to 880, to 800: two steps.
    const { ramp } = planOf({ spread: 0.001, tilt: 1.25 }, { target: 0.99 });
    const inElution = ramp.steps.filter((s) => s.time_min < 40);
    expect(inElution.length).toBe(2);
    expect(ramp.target_kept).toBe(0.99);
    expect(ramp.probability).toBeGreaterThanOrEqual(0.99);
    expect(
      inElution.every((s) => s.probability >= 0.99 && s.to_lower_edge_V >= 0 && s.to_upper_edge_V > 0),
    ).toBe(true);
    // 1.1/1.16 = 0.948 a step: ln 0.8/ln 0.948 = 4.2, five steps.
    const fine = planOf({ spread: 0.001, tilt: 1.16 }, { target: 0.99 }).ramp;
    expect(fine.steps.filter((s) => s.time_min < 40).length).toBe(5);
  });

  it('keeps a margin in volts to both edges', () => {
    const { ramp } = planOf({ spread: 0.001, tilt: 1.4 }, { target: 0.99, margin_V: 60 });
    for (const step of ramp.steps.filter((s) => s.time_min < 40)) {
      expect(step.to_lower_edge_V).toBeGreaterThanOrEqual(59);
      expect(step.to_upper_edge_V).toBeGreaterThanOrEqual(59);
    }
  });

  it('says where the target is out of reach, and keeps three quarters of what is reachable', () => {
    const { ramp, best_alone, part } = planOf({}, { target: 0.95 });
    const best = Math.min(...best_alone.probability.filter((_, k) => part[k] === 'elution'));
    expect(ramp.target_asked).toBe(0.95);
    expect(Math.abs(ramp.target_kept - 0.75 * best)).toBeLessThan(SHARE);
    expect(ramp.sentences.join(' ')).toMatch(/out of reach/);
    const { fixed, sentences } = planOf();
    expect(ramp.probability).toBeGreaterThan(fixed.probability);
    expect(sentences.join(' ')).toMatch(/Against the best single voltage the ramp wins: 30 % become \d\d %/);
  });

  it('goes only down for the wash, from the start of the run, and asks for a yes', () => {
    const { ramp } = planOf({ spread: 0.05 });
    expect(ramp.steps[0]!.time_min).toBe(0);
    expect(ramp.steps.at(-1)!.until_min).toBe(50);
    const wash = ramp.steps.at(-1)!;
    expect(wash.reason).toMatch(/lower for the wash/);
    expect(wash.raises).toBe(false);
    expect(ramp.sentences.join(' ')).toMatch(/asks for a yes/);
    const [head, ...rows] = rampCsv(ramp).trimEnd().split('\n');
    expect(head).toBe('time_min,supply_V,tip_V,probability,reason');
    expect(rows.length).toBe(ramp.steps.length);
    expect(rows[0]).toMatch(/^0\.00,\d+,\d+,[01]\.\d{3},".*"$/);
  });

  it('leaves out moments that no voltage holds, and says so', () => {
    const broken = (x: number) =>
      madeDraws({ ...base, spread: 0.01, onset_V: onset(x), tilt: x > 20 && x < 24 ? 1 : 1.6 });
    const { ramp, fixed } = planOf({}, { conditionsAt: broken, compositionStep_percent: 1 });
    expect(ramp.sentences.join(' ')).toMatch(/Some moments of the elution no voltage holds/);
    expect(ramp.target_kept).toBeGreaterThan(0.03);
    expect(ramp.steps.length).toBeGreaterThan(0);
    expect(ramp.probability).toBe(0);
    expect(fixed).toMatchObject({ verdict: 'no single voltage', probability: 0 });
    expect(fixed.failures[0]).toMatchObject({ why: 'no window at all', where: 'middle' });
  });

  it('marks a raise where the drop outgrows the onset', () => {
    const rising = (x: number) =>
      madeDraws({ ...base, spread: 0.01, onset_V: onset(x), tilt: 1.3, resistance_ohm: 2e8 * x });
    const plan = planOf({}, { conditionsAt: rising });
    expect(plan.ramp.steps.some((s) => s.raises && /ohmic drop has risen/.test(s.reason))).toBe(true);
    expect(plan.ramp.sentences.join(' ')).toMatch(/raises the voltage/);
  });
});

describe('minutes at risk', () => {
  it('warns of too little flow only above 90 %, else says not decidable', () => {
    const flow = (share: number) =>
      planOf({ minimum_flow_m3_s: (u: number) => (u < share ? 6e-12 : 1e-15) }).risks.filter(
        (r) => r.kind === 'below minimum flow' && r.part === 'elution',
      );
    expect(flow(0.95)[0]).toMatchObject({ verdict: 'warning', start_min: 0, end_min: 40 });
    expect(flow(0.95)[0]!.sentence).toMatch(/expect pulsation at any voltage/);
    expect(flow(0.89)[0]).toMatchObject({ verdict: 'not decidable' });
    expect(flow(0.5)[0]!.sentence).toMatch(/not decidable .*read the spray current at this composition/);
    expect(flow(0.05)).toEqual([]);
  });

  it('finds dripping at the start and several jets at the end of one emitter at one voltage', () => {
    // Steady needs 1.1 (1000 − 5 x): 1050 V from x = 9.1 %; tilt at 1.25 (1000 − 5 x) is passed at x = 32 %.
    const { risks, judged } = planOf({ spread: 0.001, tilt: 1.25 }, { supply_V: 1050 });
    expect(judged.which).toBe('stated supply');
    const drips = risks.find((r) => r.kind === 'drips or pulsates')!;
    const splits = risks.find((r) => r.kind === 'tilt or several jets' && r.part === 'elution')!;
    expect(drips.start_min).toBe(0);
    expect(Math.abs(drips.end_organic_percent - 9.1)).toBeLessThan(0.4);
    expect(Math.abs(splits.start_organic_percent - 32)).toBeLessThan(0.4);
    expect(splits.end_min).toBe(40);
    expect(risks.some((r) => r.part === 'wash' && r.kind === 'tilt or several jets')).toBe(true);
    expect(drips.sentence).toMatch(/steady needs about 1[01]\d\d V at the supply, it stands at 1050 V/);
  });
});

describe('walk and delay', () => {
  it('walks at start, between and end of the elution', () => {
    const { walk_at } = planOf();
    expect(walk_at.map((p) => Math.round(p.organic_percent))).toEqual([0, 20, 40]);
    expect(walk_at[1]).toMatchObject({ step_V: 50, wait_min: null });
    for (const p of walk_at) expect(p.from_V).toBeLessThan(p.to_V);
  });

  it('walks where the best voltage is least certain when a composition stands out', () => {
    const narrow = (x: number) =>
      madeDraws({ ...base, onset_V: onset(x), tilt: x > 24 && x < 28 ? 1.2 : 1.6 });
    const { walk_at } = planOf({}, { conditionsAt: narrow, compositionStep_percent: 1 });
    expect(Math.abs(walk_at[1]!.organic_percent - 26)).toBeLessThan(2.1);
    expect(walk_at[1]!.why).toMatch(/least certain/);
  });

  it('says that the delay is unknown without volumes, and moves everything with them', () => {
    const plan = planOf();
    expect(plan.delay).toBeNull();
    expect(plan.sentences[0]).toMatch(/delay is unknown/);
    // π 37.5² µm² · 150 mm = 662.7 nL at 300 nL/min: 2.2 min.
    const junction = planOf({}, { column: [{ bore_um: 75, length_mm: 150, open_fraction: 1 }] });
    expect(junction.sentences[0]).toMatch(/by 2.2 min for the liquid between contact and tip alone/);
    const moved = planOf(
      {},
      { gradient: { ...TABLE, volumes: [{ name: 'line', kind: 'tube', bore_um: 50, length_mm: 500 }] } },
    );
    // π 25² µm² · 500 mm = 981.7 nL at 300 nL/min.
    expectWithin(moved.delay!.delay_min, 3.272, { relative: 1e-3, reason: 'four figures' });
    expectWithin(moved.elution.start_min, 3.272, { relative: 1e-3, reason: 'moved by the delay' });
    expectWithin(moved.elution.end_min, 43.272, { relative: 1e-3, reason: 'moved by the delay' });
    expect(moved.elution.end_organic_percent).toBeLessThanOrEqual(40.5);
    expect(moved.times_min.at(-1)).toBeGreaterThan(53);
    expect(moved.walk_at[0]!.wait_min).toBeGreaterThan(3.2);
  });

  it('judges an elution stated as one instant', () => {
    const gradient = { ...TABLE, elution: { start_min: 20, end_min: 20 + 1e-12 } };
    const plan = planOf({ spread: 0.01 }, { gradient });
    expect(plan.part.filter((p) => p === 'elution').length).toBe(1);
    expect(plan.fixed.probability).toBe(1);
  });

  it('refuses a flow of nothing', () => {
    expect(() => planOf({}, { flow_nL_min: 0 })).toThrow(/out of range feed.flow_nL_min: 0 nL\/min/);
  });
});

describe('any gradient', () => {
  it('answers without NaN, with shares that add up, and never above a ceiling', () => {
    const random = randomStream(5, 'any gradient');
    let ramps = 0;
    let none = 0;
    for (let run = 0; run < 40; run++) {
      let time = 0;
      const table = Array.from({ length: 2 + random.index(6) }, () => {
        time += random.between(0.01, 30);
        return { time_min: time, percent_B: random.between(0, 100) };
      });
      const volumes = [
        { name: 'mixer', kind: 'mixer' as const, volume_nL: random.between(1, 5000) },
        {
          name: 'line',
          kind: 'tube' as const,
          bore_um: random.between(10, 200),
          length_mm: random.between(10, 800),
        },
      ];
      const steady = random.between(1, 1.3);
      const made = {
        count: 30,
        spread: random.between(0, 0.4),
        steady,
        tilt: random.between(0.95 * steady, 2 * steady),
        resistance_ohm: random.unit() < 0.5 ? 0 : random.between(0, 2e10),
        minimum_flow_m3_s: (u: number) => u * random.between(0, 1e-11),
        ...(random.unit() < 0.4 ? { discharge_V: random.between(600, 4000) } : {}),
      };
      const top = random.between(600, 4000);
      const plan = alongGradient({
        gradient: { ...TABLE, table, ...(random.unit() < 0.7 ? { volumes } : {}) },
        flow_nL_min: random.between(5, 1000),
        conditionsAt: (x) => madeDraws({ ...made, onset_V: top * (1 - 0.004 * x) }),
        inletSide_V: random.between(-500, 500),
        supplyLimit_V: 5000,
        contactRadius_um: random.between(1, 60),
        ...(random.unit() < 0.5 ? { supply_V: random.between(0, 5000) } : {}),
        ...(random.unit() < 0.5 ? { target: random.unit(), margin_V: random.between(0, 50) } : {}),
        moments: 40,
      });
      expect(notFinite(plan)).toEqual([]);
      plan.times_min.forEach((at, k) => {
        const states = Object.values(plan.judged.states).map((list) => list[k]!);
        expect(Math.abs(states.reduce((a, b) => a + b, 0) - 1)).toBeLessThan(1e-9);
        const step = plan.ramp.steps.findLast((s) => s.time_min <= at);
        if (step) expect(step.supply_V).toBeLessThanOrEqual(plan.ceiling_V[k]!);
        if (plan.fixed.supply_V !== null) expect(plan.fixed.supply_V).toBeLessThanOrEqual(plan.ceiling_V[k]!);
      });
      for (const value of [plan.fixed.probability, plan.ramp.probability, ...plan.best_alone.probability]) {
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThanOrEqual(1);
      }
      plan.ramp.steps.slice(1).forEach((step, k) => {
        expect(step.supply_V).not.toBe(plan.ramp.steps[k]!.supply_V);
      });
      if (plan.ramp.steps.length > 1) ramps++;
      if (plan.fixed.supply_V === null) none++;
    }
    expect(ramps).toBeGreaterThan(3);
    expect(none).toBeGreaterThan(0);
  });
});
