/** Pressure and flow beside the scans: what is told of a trace, and of a trace while an event lasts. */
import { expect, test } from 'vitest';
import { madeRecord } from '../../test/kit/made-record.ts';
import { randomStream } from '../core/random.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { readingText, readRun } from './index.ts';
import { movedBy } from './side-traces.ts';

/** Twenty minutes, a scan a second; the level falls to a fifth from 600 to 630 s. */
const SAG = { start_s: 600, end_s: 630 };
const level = (t: number) => (t >= SAG.start_s && t < SAG.end_s ? 2e6 : 1e7);

function trace(value: (t: number) => number, name = 'pressure', unit = 'bar'): RunRecord['traces'][number] {
  const draw = randomStream(3, name);
  const time_s = Float64Array.from({ length: 1200 }, (_, i) => i);
  return { name, unit, time_s, value: time_s.map((t) => value(t) * (1 + 0.004 * draw.normal())) };
}

function reading(traces: RunRecord['traces']) {
  const draw = randomStream(5, 'level');
  const scans = Array.from({ length: 1200 }, (_, i) => ({
    time_s: i,
    tic: level(i) * (1 + 0.02 * draw.normal()),
  }));
  return readRun(madeRecord(scans, { traces }));
}

const inEvent = (t: number) => t >= SAG.start_s && t < SAG.end_s;

test('a pressure that falls or rises while the level is low is named beside that event', () => {
  for (const [change, word] of [
    [-0.12, 'Pressure fell by 12 % meanwhile: speaks for a leak'],
    [0.2, 'Pressure rose by 20 % meanwhile: speaks for something that narrows'],
  ] as const) {
    const read = reading([trace((t) => (inEvent(t) ? 200 * (1 + change) : 200))]);
    expect(read.events).toHaveLength(1);
    expect(read.events[0]!.beside).toHaveLength(1);
    expect(read.events[0]!.beside![0]).toContain(word);
    expect(readingText(read)).toContain(word);
  }
  // A pump that falls short inside a run is no phase of the method: the event stays and says so.
  const flow = reading([trace((t) => (inEvent(t) ? 0.1 : 0.3), 'flow rate', 'uL/min')]);
  expect(flow.method).toBeUndefined();
  expect(flow.events[0]!.beside).toEqual([
    'Flow rate fell by 67 % meanwhile: the liquid that reached the tip changed.',
  ]);
});

test('a pressure that holds, or that drifts with the gradient, is named beside nothing', () => {
  for (const course of [() => 200, (t: number) => 150 + 0.1 * t]) {
    const read = reading([trace(course)]);
    expect(read.events).toHaveLength(1);
    expect(read.events[0]!.beside).toBeUndefined();
  }
});

test('a trace is told by its unit, range and trend, and thinned without losing its extremes', () => {
  const time_s = Float64Array.from({ length: 60_000 }, (_, i) => i / 50);
  const value = time_s.map((t, i) => (i === 31_234 ? 999 : 200 + t / 20));
  const [told] = reading([{ name: 'pressure', unit: 'bar', time_s, value }]).traces!;
  expect(told!.sentence).toBe(
    'Pressure in the file (bar): 200 to 999, middle 230; higher by 23 % in its last tenth than in its first.',
  );
  expect(told!.series.value).toHaveLength(1000);
  expect(Math.max(...told!.series.value)).toBe(999);
  expect(told!.series.time_s.every((t, i, all) => i === 0 || t > all[i - 1]!)).toBe(true);
});

test('unread values, no unit and an empty trace are said, never NaN', () => {
  const time_s = Float64Array.from([0, 1, 2, 3]);
  const read = reading([
    { name: 'pressure', unit: '', time_s, value: Float64Array.from([Number.NaN, 0, 0, Number.NaN]) },
    { name: 'flow rate', unit: 'uL/min', time_s, value: new Float64Array(4).fill(Number.NaN) },
  ]);
  expect(read.traces!.map(({ sentence }) => sentence)).toEqual([
    'Pressure in the file (unit not stated): 0 to 0, middle 0; no trend, since its middle is not above zero.',
  ]);
  expect(JSON.stringify(read)).not.toContain('NaN');
  expect(reading([]).traces).toBeUndefined();
});

test('nothing is said of an event longer than a tenth of the trace, and a lasting loss is read at its beginning', () => {
  const time_s = Array.from({ length: 1200 }, (_, i) => i);
  const draw = randomStream(8, 'pump');
  const value = time_s.map((t) => (t < 700 ? 200 : 100) * (1 + 0.004 * draw.normal()));
  expect(movedBy({ time_s, value }, { kind: 'sag', start_s: 700, end_s: 900 })).toBeNull();
  const lost = movedBy({ time_s, value }, { kind: 'signal lost at the end', start_s: 700, end_s: 1199 });
  expect(lost).toBeCloseTo(-0.5, 1);
});

test('with a pressure in the file the reading no longer asks for one', () => {
  const asks = (line: string) => line.includes('Decides: the pump pressure over the same minutes');
  expect(reading([]).undecided.some(asks)).toBe(true);
  expect(reading([trace(() => 200)]).undecided.some(asks)).toBe(false);
});
