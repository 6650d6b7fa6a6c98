/** Falls of the background factor: what the ions differ by inside tells a new composition from a spray that sinks. */
import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { fallEvent } from './fall-events.ts';
import { type SprayFall, sprayFalls } from './spray-falls.ts';
import type { SpraySeries } from './spray-series.ts';

const N = 400;
const SD = 0.05;
const ERROR = 0.017;

/** A fall of `size_log` between scans 200 and 230, in which the error is so many times the usual. */
function series(seed: number, size_log: number, times: number): SpraySeries {
  const stream = randomStream(seed, 'factor');
  const inside = (i: number): boolean => i >= 200 && i < 230;
  const log = Float64Array.from({ length: N }, (_, i) => SD * stream.normal() - (inside(i) ? size_log : 0));
  const none = (): Float64Array => new Float64Array(N).fill(Number.NaN);
  return {
    time_s: Float64Array.from(log, (_, i) => 1.6 * i),
    level_log: log.slice(),
    background: {
      log,
      error: Float64Array.from(log, (_, i) => ERROR * stream.factor(0.15) * (inside(i) ? times : 1)),
      low: log.slice(),
      high: log.slice(),
      ions: [],
      slow: [],
      course: new Float64Array(N),
      count: 60,
    },
    has_background: true,
    step: new Float64Array(N),
    course: none(),
    has_course: false,
    gain: none(),
    gain_error: none(),
    gain_low: none(),
    gain_high: none(),
    matched: new Uint16Array(N),
    jump: none(),
  };
}

function believed(seed: number, size_log: number, times: number): number {
  const made = series(seed, size_log, times);
  const fall = sprayFalls(made).falls.find(({ first, past }) => first < 230 && past > 200);
  expect(fall).toBeDefined();
  return fallEvent(fall!, made, 0).confidence;
}

test('a fall in which the ions come to differ from each other is a new composition, no alarm; a sag and a deep fall are', () => {
  for (let seed = 1; seed <= 5; seed++) {
    expect(believed(seed, 0.25, 2.4)).toBeLessThan(0.5);
    expect(believed(seed, 0.25, 1)).toBeGreaterThanOrEqual(0.5);
    // As much as sags of 20 and 30 % showed where elution came beside them.
    expect(believed(seed, 0.36, 1.6)).toBeGreaterThanOrEqual(0.5);
    // A fall by 78 % leaves few counts.
    expect(believed(seed, 1.5, 2.4)).toBeGreaterThanOrEqual(0.5);
  }
});

const FALL: SprayFall = {
  first: 200,
  past: 230,
  size_log: 0.3,
  sigmas: 4.8,
  sign: -1,
  from: 'background ions',
  halves: 'agrees',
  level: 'denies',
  ions: 'agrees',
};
const SERIES = series(1, 0.2, 1);
const confidence = (change: Partial<SprayFall>): number =>
  fallEvent({ ...FALL, ...change }, SERIES, 0).confidence;

test('a fall that barely stands out is not believed against the total level', () => {
  expect(confidence({})).toBeLessThan(0.5);
  expect(confidence({ sigmas: 6 })).toBeGreaterThanOrEqual(0.5);
  expect(confidence({ level: 'silent' })).toBeGreaterThanOrEqual(0.5);
});

test('a faint fall is told and is no alarm: of less than a fifth, or of a scan or two against the level', () => {
  const shallow = -Math.log(1 - 0.18);
  for (const change of [
    { size_log: shallow, level: 'silent', sigmas: 6 },
    { size_log: shallow, level: 'denies', sigmas: 8 },
    { size_log: 0.5, level: 'denies', sigmas: 7.5, past: 202 },
  ] as const) {
    expect(confidence(change)).toBeLessThan(0.5);
    expect(confidence(change)).toBeGreaterThanOrEqual(0.25);
  }
  expect(confidence({ size_log: shallow, level: 'silent', sigmas: 7 })).toBeGreaterThanOrEqual(0.5);
  expect(confidence({ size_log: 0.5, level: 'denies', sigmas: 7.5, past: 203 })).toBeGreaterThanOrEqual(0.5);
  expect(confidence({ size_log: 0.8, level: 'denies', sigmas: 9, past: 202 })).toBeGreaterThanOrEqual(0.5);
});

test('a fall of the gains is asked whether the ions followed through its edges jump there', () => {
  const stream = randomStream(3, 'gains');
  const made = series(3, 0, 1);
  made.has_background = false;
  made.background.log.fill(Number.NaN);
  made.has_course = true;
  for (let i = 1; i < N; i++) made.step[i] = SD * stream.normal() + (i === 200 ? -0.6 : i === 230 ? 0.6 : 0);
  const witness = (down: number, up: number): string | undefined => {
    made.jump.fill(0);
    made.jump[200] = down;
    made.jump[230] = up;
    return sprayFalls(made).falls.find(({ first }) => Math.abs(first - 200) <= 1)?.ions;
  };
  expect(witness(-0.55, 0.6)).toBe('agrees');
  expect(witness(-0.1, 0.2)).toBe('denies');
  expect(witness(Number.NaN, 0.6)).toBe('silent');
});
