/** Two levels full of elution, sampled in turn: a sharp fall of both is found, that of one and smooth valleys are not. */
import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { jointFalls } from './index.ts';

const OPTIONS = {
  least_log: 0.2,
  sigmas: 3.8,
  each: 2.2,
  longest_s: 180,
  match: 1.7,
  within: 0,
  ring: { samples: 1, share: 1 },
};

/** Widths of the peaks [s]: over some 15 s and over half a minute. */
const STEEP_S = 6;
const WIDE_S = 12;
const SEEDS = 40;
/** An edge on the flank of a peak that moves as much by itself is taken for a part of it: computed, 43 and 54 of 60. */
const LEAST_OF_STEEP = 0.6;
const LEAST_OF_WIDE = 0.8;

function made(
  seed: number,
  n: number,
  offset_s: number,
  fall: (t: number) => number,
  of: string,
  width_s = STEEP_S,
) {
  const stream = randomStream(seed, of);
  const peaks = Array.from({ length: n / 25 }, () => ({
    at: stream.between(0, n * 1.3),
    high: stream.between(1, 30),
  }));
  const time_s = Float64Array.from({ length: n }, (_, i) => 1.3 * i + offset_s);
  const log = time_s.map((t) => {
    let level = 1;
    for (const { at, high } of peaks) level += high * Math.exp(-0.5 * ((t - at) / width_s) ** 2);
    return Math.log(level * fall(t)) + 0.05 * stream.normal();
  });
  return { time_s, log };
}

const NONE = { falls: [], lone: [] };
const none = (): number => 1;
const sag = (t: number): number => (t >= 300 && t < 340 ? 0.4 : 1);

test('a fall of 60 % for 40 s in both: place and size, and few missed among steep peaks', () => {
  for (const [width_s, least] of [
    [STEEP_S, LEAST_OF_STEEP],
    [WIDE_S, LEAST_OF_WIDE],
  ] as const) {
    let seen = 0;
    for (let seed = 1; seed <= SEEDS; seed++) {
      const one = made(seed, 480, 0, sag, 'one', width_s);
      const { falls } = jointFalls(one, made(seed, 480, 0.65, sag, 'other', width_s), OPTIONS);
      expect(falls.length).toBeLessThanOrEqual(1);
      for (const fall of falls) {
        seen++;
        expect(Math.abs(1.3 * fall.first - 300)).toBeLessThan(2.7);
        expect(Math.abs(1.3 * fall.past - 340)).toBeLessThan(2.7);
        // Scatter of four jumps of sd 0.05 x 2.2, and the slopes of peaks 6 s wide.
        expect(Math.abs(fall.size_log + Math.log(0.4))).toBeLessThan(0.35);
      }
    }
    expect(seen).toBeGreaterThanOrEqual(least * SEEDS);
  }
});

test('a front that falls by more before and after its steepest step is no edge', () => {
  const front = (t: number): number => Math.exp(-3 / (1 + Math.exp(-(t - 300) / 1.6)));
  const back = (t: number): number => front(t) / front(700 - t) / Math.exp(-3);
  for (let seed = 1; seed <= SEEDS; seed++) {
    const one = made(seed, 480, 0, back, 'one', WIDE_S);
    expect(jointFalls(one, made(seed, 480, 0.65, back, 'other', WIDE_S), OPTIONS)).toEqual(NONE);
  }
});

test('a fall of one series, a smooth valley of both, and four hours of elution hold none', () => {
  const smooth = (t: number): number => 1 - 0.6 * Math.exp(-0.5 * ((t - 320) / 12) ** 2);
  for (let seed = 1; seed <= 10; seed++) {
    const one = made(seed, 480, 0, sag, 'one');
    expect(jointFalls(one, made(seed, 480, 0.65, none, 'other'), OPTIONS)).toEqual(NONE);
    const valley = made(seed, 480, 0, smooth, 'one');
    expect(jointFalls(valley, made(seed, 480, 0.65, smooth, 'other'), OPTIONS)).toEqual(NONE);
  }
  for (let seed = 20; seed < 44; seed++) {
    const one = made(seed, 480, 0, none, 'one');
    expect(jointFalls(one, made(seed, 480, 0.65, none, 'other'), OPTIONS)).toEqual(NONE);
  }
});

test('a fall by half that stays is a lone jump, alike in both', () => {
  const step = (t: number): number => (t >= 300 ? 0.5 : 1);
  let seen = 0;
  let false_jumps = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const one = made(seed, 480, 0, step, 'one', WIDE_S);
    const { falls, lone } = jointFalls(one, made(seed, 480, 0.65, step, 'other', WIDE_S), OPTIONS);
    expect(falls).toEqual([]);
    for (const jump of lone) {
      // These limits lie below those of a reading: now and then chance shows a jump.
      if (Math.abs(1.3 * jump.at - 300) > 2.7 || jump.size_log > -0.35) {
        false_jumps++;
        continue;
      }
      seen++;
      expect(jump.unlike).toBeGreaterThanOrEqual(1);
      expect(jump.unlike).toBeLessThan(1.7);
    }
  }
  expect(seen).toBeGreaterThanOrEqual(LEAST_OF_WIDE * SEEDS);
  expect(false_jumps).toBeLessThanOrEqual(2);
});
