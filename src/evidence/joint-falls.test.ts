/** Two levels taken in turn: what they show together becomes an event, what one shows alone does not. */
import { expect, test } from 'vitest';
import { randomStream } from '../core/random.ts';
import { jointEvents } from './joint-falls.ts';
import { jointScatterEvents } from './joint-scatter.ts';
import type { WitnessSeries } from './other-groups.ts';
import type { RunEvent } from './run-reading.ts';

const INTERVAL_S = 1.3;
const SCATTER = 0.02;
/** An edge lies between two scans of each kind. */
const EDGE_S = 2 * INTERVAL_S;
const SEEDS = 6;

function made(seed: number, of: string, off_s: number, log: (t: number) => number): WitnessSeries {
  const stream = randomStream(seed, of);
  const time_s = Array.from({ length: 500 }, (_, i) => INTERVAL_S * i + off_s);
  return { time_s, log: time_s.map((t) => log(t) + SCATTER * stream.normal()), sigma: SCATTER };
}

/** Noisier between two times. */
function noisy(seed: number, of: string, off_s: number, times: number): WitnessSeries {
  const stream = randomStream(seed, of);
  const time_s = Array.from({ length: 500 }, (_, i) => INTERVAL_S * i + off_s);
  const wild = (t: number): number => (t > 200 && t < 300 ? times : 1);
  return { time_s, log: time_s.map((t) => SCATTER * wild(t) * stream.normal()), sigma: SCATTER };
}

const still = (): number => 0;
const sag = (t: number): number => (t >= 300 && t < 340 ? Math.log(0.5) : 0);
const drop = (t: number): number => (t >= 300 && t < 306 ? Math.log(0.1) : 0);
const step = (t: number): number => (t >= 300 ? Math.log(0.45) : 0);
const shallow = (t: number): number => (t >= 300 ? Math.log(0.65) : 0);

function both(seed: number, log: (t: number) => number, other = log): RunEvent[] {
  return jointEvents([], made(seed, 'one', 0, log), [made(seed, 'other', 0.65, other)], 0);
}

test('a sag and a dropout of both: kind, place, depth; an alarm', () => {
  for (let seed = 1; seed <= SEEDS; seed++) {
    const [event, ...rest] = both(seed, sag);
    expect(rest).toEqual([]);
    expect(event).toMatchObject({ kind: 'sag', common: true, group: 0 });
    expect(Math.abs(event!.start_s - 300)).toBeLessThan(EDGE_S);
    expect(Math.abs(event!.end_s - 340)).toBeLessThan(EDGE_S);
    // Four jumps of sd 0.02 x 1.6, the mean of two edges.
    expect(Math.abs(event!.depth! - 0.5)).toBeLessThan(0.1);
    expect(event!.confidence).toBeGreaterThanOrEqual(0.5);
    expect(both(seed, drop).map(({ kind }) => kind)).toEqual(['dropout']);
  }
});

test('a fall of one kind of scans alone is no event', () => {
  for (let seed = 1; seed <= SEEDS; seed++) {
    expect(both(seed, sag, still)).toEqual([]);
    expect(both(seed, step, still)).toEqual([]);
    expect(both(seed, still)).toEqual([]);
  }
});

test('a fall by more than half that stays is an alarm; a shallow one and a rise are told only', () => {
  for (let seed = 1; seed <= SEEDS; seed++) {
    const deep = both(seed, step);
    expect(deep.map(({ kind }) => kind)).toEqual(['step']);
    expect(deep[0]!.confidence).toBeGreaterThanOrEqual(0.5);
    const less = both(seed, shallow);
    expect(less.map(({ kind }) => kind)).toEqual(['step']);
    expect(less[0]!.confidence).toBeLessThan(0.5);
    const rise = both(seed, (t) => -step(t));
    expect(rise.map(({ kind, depth }) => [kind, depth])).toEqual([['step', null]]);
    expect(rise[0]!.confidence).toBeLessThan(0.5);
  }
});

test('a loss found before stays, and takes the place of what both show in its time', () => {
  const lost: RunEvent = {
    kind: 'level lost',
    group: 0,
    start_s: 290,
    end_s: 600,
    depth: 0.9,
    confidence: 0.8,
    confidence_basis: '',
    sentence: '',
  };
  const weak: RunEvent = { ...lost, kind: 'sag', end_s: 345, depth: 0.4, confidence: 0.2 };
  const one = made(1, 'one', 0, sag);
  const other = [made(1, 'other', 0.65, sag)];
  expect(jointEvents([lost], one, other, 0).map(({ kind }) => kind)).toEqual(['level lost']);
  const replaced = jointEvents([weak], one, other, 0);
  expect(replaced).toHaveLength(1);
  expect(replaced[0]!.confidence).toBeGreaterThanOrEqual(0.5);
});

test('both scatter six times as much for 100 s: one flicker there; one alone, or twice as much: none', () => {
  for (let seed = 1; seed <= SEEDS; seed++) {
    const found = jointScatterEvents(noisy(seed, 'a', 0, 6), [noisy(seed, 'b', 0.65, 6)], 2);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ kind: 'flicker', group: 2, common: true });
    // Windows of up to 144 scans reach over the ends.
    expect(found[0]!.start_s).toBeGreaterThan(200 - 144 * INTERVAL_S);
    expect(found[0]!.start_s).toBeLessThan(220);
    expect(found[0]!.end_s).toBeGreaterThan(280);
    expect(jointScatterEvents(noisy(seed, 'a', 0, 6), [noisy(seed, 'b', 0.65, 1)], 2)).toEqual([]);
    expect(jointScatterEvents(noisy(seed, 'a', 0, 2), [noisy(seed, 'b', 0.65, 2)], 2)).toEqual([]);
  }
});

test('one kind of scans alone scatters more than three times as much by its ions: told; by its level, or twice as much: not', () => {
  for (let seed = 1; seed <= SEEDS; seed++) {
    const ions = (times: number): WitnessSeries => {
      const { time_s, log, sigma } = noisy(seed, 'alone', 0, times);
      const value = Float64Array.from(log, (x, i) => x - (log[i - 1] ?? x));
      return { time_s, log: time_s.map(() => 0), sigma, jump: { value, error: value.map(() => 0.005) } };
    };
    const [event, ...rest] = jointScatterEvents(ions(6), [], 1);
    expect(rest).toEqual([]);
    expect(event).toMatchObject({ kind: 'flicker', group: 1 });
    expect(event!.confidence).toBeGreaterThanOrEqual(0.5);
    expect(event!.start_s).toBeLessThan(220);
    expect(event!.end_s).toBeGreaterThan(280);
    expect(jointScatterEvents(ions(2), [], 1)).toEqual([]);
    expect(jointScatterEvents(noisy(seed, 'alone', 0, 6), [], 1)).toEqual([]);
  }
});

test('too few scans say nothing', () => {
  const short = { time_s: [0, 1], log: [0, 0], sigma: 0.1 };
  expect(jointEvents([], short, [short], 0)).toEqual([]);
  expect(jointScatterEvents(short, [short], 0)).toEqual([]);
});
