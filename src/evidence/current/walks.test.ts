import { describe, expect, it } from 'vitest';
import { type Bare, flat, madeTrace, pulsating, unsteady } from '../../../test/kit/made-traces.ts';
import { currentStream } from '../../core/signal/index.ts';
import { readFlowWalk, student } from './flow-walk.ts';
import { flowSteps, voltageSteps } from './number-table.ts';
import { readCurrent } from './read-current.ts';
import { behindResistor, resistorReading } from './resistor.ts';
import { readVoltageWalk } from './voltage-walk.ts';
import { withWalk } from './walk-events.ts';
import { flowWalkText, observationsYaml, voltageWalkCsv, voltageWalkText } from './walk-text.ts';

const NA = 1e-9;
const RATE = 4000;
const STEP_S = 2;

const STAIRS: [number, Bare][] = [
  [1000, flat(0.2 * NA)],
  [1100, flat(0.3 * NA)],
  [1200, pulsating(400, 60 * NA)],
  [1300, pulsating(700, 90 * NA)],
  [1400, flat(150 * NA)],
  [1500, flat(156 * NA)],
  [1600, flat(162 * NA)],
  [1700, unsteady(168 * NA, 0.1)],
  [1800, flat(246 * NA)],
  [1700, flat(167 * NA)],
  [1600, flat(161 * NA)],
  [1500, flat(155 * NA)],
  [1400, flat(149 * NA)],
  [1300, flat(143 * NA)],
  [1200, pulsating(500, 55 * NA)],
  [1100, flat(0.3 * NA)],
];

function walked(logged: boolean) {
  const stream = currentStream({ rate_Hz: RATE, window_s: 0.25 });
  STAIRS.forEach(([volts, bare], i) => {
    const x = madeTrace(bare, { rate_Hz: RATE, length_s: STEP_S, seed: i });
    stream.push(x, x.length, logged ? x.map((_, k) => volts + (k % 2)) : undefined);
  });
  return readCurrent(stream.end());
}

describe('a voltage walk', () => {
  const table = STAIRS.map(([voltage_V], i) => ({ time_s: i * STEP_S, voltage_V }));

  it.each([
    ['from the logged channel', walked(true), undefined],
    ['from a step table', walked(false), table],
  ])('%s: onset, edges, hysteresis, best point', (_, reading, steps) => {
    const walk = readVoltageWalk(reading, { steps, voltage_at: 'supply' });
    expect(walk.sweeps.map((s) => s.direction)).toEqual(['up', 'down']);
    const [up, down] = walk.sweeps;
    const near = (found: number | null | undefined, volts: number) =>
      expect(Math.abs(found! - volts)).toBeLessThanOrEqual(1);
    near(up!.onset!.above_V, 1100);
    near(up!.onset!.at_most_V, 1200);
    near(up!.lower!.above_V, 1300);
    near(up!.lower!.at_most_V, 1400);
    near(up!.upper!.above_V, 1600);
    near(up!.upper!.at_most_V, 1700);
    near(down!.lower!.at_most_V, 1300);
    near(up!.best!.voltage_V, 1500);
    expect(up!.steps.at(-1)!.regime).toBe('several jets');
    // One jet would carry 174 nA at 1800 V by the line through 150, 156 and 162 nA: 246 nA are the square root of two of it.
    expect(up!.steps.at(-1)!.jets).toBe(2);
    expect(up!.best!.voltage_low_V).toBeLessThanOrEqual(1500);
    expect(up!.best!.level_low_nA).toBeLessThanOrEqual(up!.best!.level_nA);
    expect(up!.best!.level_high_nA).toBeGreaterThanOrEqual(up!.best!.level_nA);
    expect(walk.hysteresis_V!.low).toBeLessThanOrEqual(100);
    expect(walk.hysteresis_V!.high).toBeGreaterThanOrEqual(100);
    expect(walk.warnings).toEqual([]);
  });

  it('writes rows that a plan can be calibrated with', () => {
    const reading = walked(false);
    const walk = readVoltageWalk(reading, { steps: table, voltage_at: 'supply' });
    const seen = walk.observations.map((o) => `${o.supply_V} ${o.seen} ${o.direction}`);
    for (const row of [
      '1100 no spray up',
      '1200 pulsating up',
      '1400 steady up',
      '1700 tilted up',
      '1800 several jets up',
      '1300 steady down',
    ])
      expect(seen).toContain(row);
    const best = walk.observations.find((o) => o.supply_V === 1500 && o.direction === 'up')!;
    expect(best.current_nA).toBeCloseTo(156, 0);
    const yaml = observationsYaml(walk.observations, 'walk.csv', reading);
    expect(yaml).toMatch(/- \{ supply_V: 1500, seen: steady, direction: up, current_nA: 156/);
    expect(yaml).toMatch(/faster pulsation not excluded/);
    expect(voltageWalkText(walk)).toMatch(/a person sets each one/);
    expect(voltageWalkCsv(walk).trim().split('\r\n').length).toBe(
      1 + walk.sweeps.reduce((n, s) => n + s.steps.length, 0),
    );
  });

  it('takes off what a series resistor keeps', () => {
    expect(behindResistor(1500, 200, 100)).toBeCloseTo(1480, 9);
    const walk = readVoltageWalk(walked(false), { steps: table, series_MOhm: 100 });
    expect(walk.sweeps[0]!.best!.voltage_V).toBeCloseTo(1500 - 15.6, 0);
  });

  /** Levels in steps of 100 V from 1000 V, each held for STEP_S. */
  function stairs(levels_nA: readonly number[]) {
    const stream = currentStream({ rate_Hz: RATE, window_s: 0.25 });
    levels_nA.forEach((level, i) => {
      const x = madeTrace(flat(level * NA), { rate_Hz: RATE, length_s: STEP_S, seed: 40 + i });
      stream.push(x, x.length);
    });
    const reading = readCurrent(stream.end());
    const steps = levels_nA.map((_, i) => ({ time_s: i * STEP_S, voltage_V: 1000 + 100 * i }));
    return { reading, walk: readVoltageWalk(reading, { steps, voltage_at: 'tip' }) };
  }

  it('counts a second jet against what one jet would carry there, though the raw step is no square root', () => {
    // One jet gains 15 nA a step; two at 1400 V carry 1.414 times 195 nA, 1.53 times the step before.
    const { reading, walk } = stairs([0.3, 150, 165, 180, Math.SQRT2 * 195]);
    const born = (events: typeof reading.events) =>
      events.find((e) => e.kind === 'step up' && e.after_nA! > 250)!.sentence;
    expect(born(reading.events)).toMatch(/by no square root/);
    expect(born(withWalk(reading, walk).events)).toMatch(/1300 to 1400 V\): from one jet to 2 jets/);
    const [up] = walk.sweeps;
    expect(up!.steps.map((s) => s.jets)).toEqual([null, 1, 1, 1, 2]);
    expect(up!.upper).toEqual({ above_V: 1300, at_most_V: 1400 });
    expect(walk.sentences.join(' ')).toMatch(/1\.41 times what one jet would carry at 1400 V: 2 jets/);
    expect(walk.observations.map((o) => `${o.tip_V} ${o.seen}`)).toContain('1400 several jets');
  });

  it.each([
    ['three', Math.sqrt(3), 3],
    ['four', 2, 4],
    ['no whole number of', 1.27, null],
  ])('%s jets above the window', (_, times, jets) => {
    const { walk } = stairs([0.3, 150, 156, 162, times * 168]);
    expect(walk.sweeps[0]!.steps.at(-1)!.jets).toBe(jets);
  });

  it('takes a jet that gains the step of a fourth jet with the voltage for one jet', () => {
    const { walk } = stairs([0.3, 100, 115, 132]);
    expect(walk.sweeps[0]!.steps.map((s) => s.regime)).toEqual(['no spray', 'steady', 'steady', 'steady']);
    expect(walk.sweeps[0]!.steps.map((s) => s.jets)).toEqual([null, 1, 1, 1]);
  });

  it('does not state where the voltage was measured unless it is told', () => {
    const walk = readVoltageWalk(walked(false), { steps: table });
    expect(walk.warnings.join(' ')).toMatch(/not stated: a plan takes it as the supply/);
  });

  it('says when its steps are too short', () => {
    const walk = readVoltageWalk(walked(false), {
      steps: [
        { time_s: 0, voltage_V: 900 },
        { time_s: 0.1, voltage_V: 950 },
        { time_s: 0.2, voltage_V: 1000 },
      ],
    });
    expect(walk.warnings.join()).toMatch(/2 steps are shorter/);
  });
});

describe('a flow walk', () => {
  it('finds the exponent inside its range; noise widens it', () => {
    const flows = [50, 100, 200, 400, 800];
    const off = [1.04, 0.97, 1.02, 0.98, 1.01];
    const walk = readFlowWalk(
      flows.map((flow_nL_min, i) => ({ flow_nL_min, current_nA: 6 * flow_nL_min ** 0.5 * off[i]! })),
      undefined,
    );
    expect(walk.exponent!.low).toBeLessThan(0.5);
    expect(walk.exponent!.high).toBeGreaterThan(0.5);
    expect(walk.exponent!.high - walk.exponent!.low).toBeGreaterThan(0.01);
    expect(walk.coefficient_nA!.low).toBeLessThan(6);
    expect(walk.coefficient_nA!.high).toBeGreaterThan(6);
  });

  it('a linear current is no cone-jet, and its conductivity is marked', () => {
    const walk = readFlowWalk(
      [50, 100, 200, 400].map((flow_nL_min) => ({ flow_nL_min, current_nA: flow_nL_min * 0.5 })),
      undefined,
      { value: 0.04, low: 0.038, high: 0.042 },
    );
    expect(walk.sentences.join(' ')).toMatch(/not that of one steady cone-jet/);
    expect(walk.conductivity_S_m!.valid).toBe(false);
  });

  it('leaves out steps that were not steady', () => {
    const stream = currentStream({ rate_Hz: RATE, window_s: 0.25 });
    for (const bare of [flat(60 * NA), flat(85 * NA), flat(120 * NA), pulsating(400, 90 * NA)]) {
      const x = madeTrace(bare, { rate_Hz: RATE, length_s: STEP_S, seed: 2 });
      stream.push(x, x.length);
    }
    const walk = readFlowWalk(
      [100, 200, 400, 800].map((flow_nL_min, i) => ({ flow_nL_min, time_s: i * STEP_S })),
      readCurrent(stream.end()),
    );
    expect(walk.points.map((p) => p.used)).toEqual([true, true, true, false]);
    expect(walk.exponent!.value).toBeCloseTo(0.5, 2);
    expect(flowWalkText(walk)).toMatch(/left out/);
  });

  it("Student's range narrows with the steps", () => {
    expect(student(1)).toBeGreaterThan(student(4));
    expect(student(20)).toBeCloseTo(2.086, 1);
  });
});

describe('tables and marks', () => {
  it('reads headings with units, and marks', () => {
    expect(voltageSteps('time_min;voltage_kV\n0;1,5\n1,5;1,6\n', 't')).toEqual([
      { time_s: 0, voltage_V: 1500 },
      { time_s: 90, voltage_V: 1600 },
    ]);
    expect(voltageSteps('0=1500, 12.5=1600', 'marks')[1]).toEqual({ time_s: 12.5, voltage_V: 1600 });
    expect(flowSteps('flow_nL_min,current_uA\n100,0.2\n', 't')).toEqual([
      { flow_nL_min: 100, current_nA: 200 },
    ]);
  });

  it('refuses what it cannot read', () => {
    expect(() => voltageSteps('time_s,volts\n0,1\n', 't.csv')).toThrow(
      /missing column: t.csv, line 1: time_s, volts; expected voltage_V or voltage_kV/,
    );
    expect(() => voltageSteps('0=1500, x=3', 'marks')).toThrow(/invalid marks: x=3/);
    expect(() => flowSteps('flow_nL_min\n100\n', 't')).toThrow(/time_s .* or current_nA/);
  });
});

it('a shunt with its meter beside it', () => {
  const r = resistorReading({ resistor_MOhm: 4.7, meter_MOhm: 10, capacitance_pF: 100, current_nA: 200 });
  expect(r.effective_MOhm).toBeCloseTo(3.197, 3);
  expect(r.lost_V).toBeCloseTo(0.6395, 3);
  expect(r.bandwidth_Hz).toBeCloseTo(497.8, 0);
  // sqrt(4 k T B/R): k 1.38e-23, T 298, B 498, R 3.197e6.
  expect(r.noise_nA).toBeCloseTo(1.6e-3, 4);
  expect(r.sentences.join(' ')).toMatch(/reads 32 % low/);
});
