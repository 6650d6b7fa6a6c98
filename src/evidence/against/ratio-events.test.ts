import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { type RatioForEvents, ratioEvents } from './ratio-events.ts';

const ALARM = 0.5;

function ratio(seed: number, sigma: number, change: (i: number) => number): RatioForEvents {
  const stream = randomStream(seed, 'ratio');
  const series = (): Float64Array =>
    Float64Array.from({ length: 100 }, (_, i) => sigma * stream.normal() + change(i));
  const log = series();
  return {
    start_s: 0,
    step_s: 10,
    log,
    low: series(),
    high: series(),
    each: [log],
    from: 'standing ions',
    spread: 0,
    group: 0,
  };
}

test('flat ratios that scatter widely show nothing that lasts', () => {
  let told = 0;
  for (let seed = 0; seed < 60; seed++) {
    const { events } = ratioEvents(ratio(seed, 0.35, () => 0));
    told += events.filter(({ kind }) => kind === 'step' || kind === 'drift').length;
  }
  // The stated chance is one in a thousand; a change as large as is asked for stands in one of ten such series.
  expect(told).toBe(0);
});

test('a stretch of minutes that comes back is a sag of that length', () => {
  const { events } = ratioEvents(ratio(1, 0.06, (i) => (i < 30 ? 0 : i < 75 ? -0.6 : 0)));
  const [sag, ...more] = events.filter(({ confidence }) => confidence >= ALARM);
  expect(more).toEqual([]);
  expect(sag?.kind).toBe('sag');
  // Two steps.
  expect(Math.abs(sag!.start_s - 300)).toBeLessThan(25);
  expect(Math.abs(sag!.end_s - 750)).toBeLessThan(25);
  expect(Math.abs(sag!.depth! - (1 - Math.exp(-0.6)))).toBeLessThan(0.05);
});

test('steps one way after another pass for one change, whose end is the end of both', () => {
  const { events } = ratioEvents(ratio(1, 0.06, (i) => (i < 35 ? 0 : i < 70 ? -0.4 : -0.9)));
  expect(events.length).toBeGreaterThan(0);
  const deepest = Math.max(...events.map(({ depth }) => depth ?? 0));
  expect(Math.abs(deepest - (1 - Math.exp(-0.9)))).toBeLessThan(0.12);
});

test('a large change of few steps is none where chance makes such', () => {
  const { events } = ratioEvents(ratio(2, 0.16, (i) => (i < 94 ? 0 : -0.4)));
  expect(events.filter(({ kind }) => kind === 'step' || kind === 'drift')).toEqual([]);
});

test('one half of the ions alone is no alarm', () => {
  const made = ratio(1, 0.06, (i) => (i < 50 ? 0 : -0.5));
  const { events } = ratioEvents({ ...made, high: made.high.map((value, i) => value + (i < 50 ? 0 : 0.5)) });
  expect(events).toHaveLength(1);
  expect(events[0]!.confidence).toBeLessThan(ALARM);
  expect(events[0]!.common).toBe(false);
});

test('a change that the good runs show among themselves is none', () => {
  const made = ratio(1, 0.06, (i) => (i < 50 ? 0 : -0.4));
  expect(ratioEvents({ ...made, spread: 0.3 }).events).toEqual([]);
});

test('a ratio with holes is looked at where it stands, one too short is not', () => {
  const made = ratio(1, 0.05, (i) => (i < 60 ? 0 : -0.5));
  const holes = made.log.map((value, i) => (i % 5 === 0 ? Number.NaN : value));
  const [event] = ratioEvents({ ...made, log: holes, each: [holes] }).events;
  // Two steps either way.
  expect(Math.abs(event!.start_s - 600)).toBeLessThan(25);
  const short = made.log.map((value, i) => (i < 90 ? Number.NaN : value));
  expect(ratioEvents({ ...made, log: short, each: [short] })).toMatchObject({ events: [], looked: false });
});
