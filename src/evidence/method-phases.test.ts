/** Phases of a method from a gradient table with its delay, and from a flow trace; what a reading does with them. */
import { expect, test } from 'vitest';
import type { GradientSpec } from '../core/setup.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { methodOfGradient, methodOfTraces, readRun } from './index.ts';

const GRADIENT: GradientSpec = {
  bottle_A_organic_percent: 0,
  bottle_B_organic_percent: 80,
  organic: 'acetonitrile',
  table: [
    { time_min: 0, percent_B: 3 },
    { time_min: 2, percent_B: 3 },
    { time_min: 12, percent_B: 40 },
    { time_min: 12.5, percent_B: 95 },
    { time_min: 15, percent_B: 95 },
    { time_min: 15.2, percent_B: 3 },
    { time_min: 20, percent_B: 3 },
  ],
};
/** Times are looked at every 3 s, and the wash counts from 1 % organic beyond the elution's end on. */
const GRID_S = 6;

function phase(method: ReturnType<typeof methodOfGradient>, name: string) {
  return method.phases.find((one) => one.name === name)!;
}

test('a table: dead time, elution, wash and re-equilibration, without volumes not moved', () => {
  const method = methodOfGradient(GRADIENT, 300);
  expect(method.from).toContain('not moved');
  expect(method.phases.map(({ name }) => name)).toEqual([
    'injection and dead time',
    'elution',
    'wash',
    're-equilibration',
  ]);
  expect(phase(method, 'elution').start_s).toBe(120);
  expect(Math.abs(phase(method, 'wash').start_s - 720)).toBeLessThanOrEqual(GRID_S);
  // From 95 to 3 % B in 12 s, back under 40 % after 7 s.
  expect(Math.abs(phase(method, 're-equilibration').start_s - 907)).toBeLessThanOrEqual(GRID_S);
});

test('the delay of a tube moves every phase by volume over flow', () => {
  const volumes = [{ name: 'line', kind: 'tube' as const, volume_nL: 600 }];
  const method = methodOfGradient({ ...GRADIENT, volumes }, 300);
  expect(method.from).toContain('2.0 min');
  expect(phase(method, 'elution').start_s).toBeCloseTo(240, 6);
  expect(Math.abs(phase(method, 'wash').start_s - 840)).toBeLessThanOrEqual(GRID_S);
});

test('a table without a wash re-equilibrates once it falls; one that only rises has none', () => {
  const falls = [
    ...GRADIENT.table.slice(0, 3),
    { time_min: 13, percent_B: 3 },
    { time_min: 20, percent_B: 3 },
  ];
  const method = methodOfGradient({ ...GRADIENT, table: falls }, undefined);
  expect(method.phases.map(({ name }) => name)).toEqual([
    'injection and dead time',
    'elution',
    're-equilibration',
  ]);
  const rises = methodOfGradient({ ...GRADIENT, table: GRADIENT.table.slice(1, 3) }, undefined);
  expect(rises.phases.map(({ name }) => name)).toEqual(['injection and dead time', 'elution']);
});

/** A steady run of 20 min, one scan a second, whose level goes by `level`. */
function record(level: (t: number) => number, traces: RunRecord['traces'] = []): RunRecord {
  const n = 1200;
  const time_s = Float64Array.from({ length: n }, (_, i) => i);
  const tic = time_s.map((t, i) => level(t) * (1 + 0.02 * Math.sin(12.9 * i) * Math.cos(7.7 * i)));
  const none = (): Float64Array => new Float64Array(n).fill(Number.NaN);
  return {
    format: 'mzML',
    ms1_count: n,
    time_s,
    tic_stated: tic,
    tic_summed: tic,
    base_peak: tic,
    peak_count: new Uint32Array(n).fill(10),
    injection_ms: none(),
    polarity: new Int8Array(n).fill(1),
    window_low: none(),
    window_high: none(),
    analyser: new Uint16Array(n),
    analysers: ['one'],
    profile: new Uint8Array(n),
    spectra_by_level: [0, n],
    traces,
    invented: false,
    warnings: [],
  };
}

test('a fall in the wash is told there and takes nothing; one in the elution takes minutes', () => {
  const method = methodOfGradient(GRADIENT, undefined);
  const washed = readRun(
    record((t) => (t > 800 && t < 840 ? 0.2 : 1)),
    { method },
  );
  expect(washed.events).toEqual([]);
  expect(washed.verdict.grade).toBe('keep');
  const wash = washed.method!.phases.find(({ name }) => name === 'wash')!;
  expect(wash.events).toBe(1);
  expect(wash.sentence).toContain('found: dropout');
  expect(washed.masked.map(({ reason }) => reason.split(',')[0])).toEqual([
    'injection and dead time',
    'wash',
    're-equilibration',
  ]);
  expect(washed.trustworthy_share).toBeGreaterThan(0.98);
  const eluting = readRun(
    record((t) => (t > 400 && t < 440 ? 0.2 : 1)),
    { method },
  );
  expect(eluting.events.map(({ kind }) => kind)).toEqual(['dropout']);
  expect(eluting.method!.phases.find(({ name }) => name === 'elution')!.events).toBe(1);
});

test('a spray lost in the elution is not hidden by the wash that follows', () => {
  const method = methodOfGradient(GRADIENT, undefined);
  const { events } = readRun(
    record((t) => (t > 300 ? 0.01 : 1)),
    { method },
  );
  expect(events.map(({ kind }) => kind)).toEqual(['signal lost at the end']);
});

test('a flow trace: minutes of another flow are left out; one flow or no trace tells nothing', () => {
  const time_s = Float64Array.from({ length: 400 }, (_, i) => 3 * i);
  const flow = (value: (t: number) => number) => [
    { name: 'flow rate', unit: 'uL/min', time_s, value: time_s.map(value) },
  ];
  const run = record(
    () => 1,
    flow((t) => (t < 180 ? 3 : 0.3)),
  );
  const method = methodOfTraces(run)!;
  expect(method.phases).toEqual([{ name: 'other flow', start_s: 0, end_s: 177 }]);
  const reading = readRun(run);
  expect(reading.masked[0]).toMatchObject({ start_s: 0, end_s: 177 });
  expect(reading.undecided.some((line) => line.includes('flow trace'))).toBe(true);
  expect(
    methodOfTraces(
      record(
        () => 1,
        flow(() => 0.3),
      ),
    ),
  ).toBeUndefined();
  const without = readRun(record(() => 1));
  expect(without.method).toBeUndefined();
  expect(without.undecided.some((line) => line.includes('run files hold no gradient'))).toBe(true);
});

test('a run that begins after the dead time leaves nothing out before its first scan', () => {
  const late = record(() => 1);
  late.time_s.forEach((t, i) => {
    late.time_s[i] = t + 300;
  });
  const { masked, method } = readRun(late, { method: methodOfGradient(GRADIENT, undefined) });
  expect(masked.map(({ reason, start_s }) => [reason.split(',')[0], start_s >= 300])).toEqual([
    ['wash', true],
    ['re-equilibration', true],
  ]);
  expect(method!.phases[0]).toMatchObject({ name: 'elution', start_s: 300 });
});
