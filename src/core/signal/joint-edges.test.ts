/** Two levels full of elution, sampled in turn: a sharp fall of both is found, that of one and smooth valleys are not. */
import { expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { jointFalls } from './index.ts';

const OPTIONS = { least_log: 0.2, sigmas: 3.8, each: 2.2, longest_s: 180 };

function made(seed: number, n: number, offset_s: number, fall: (t: number) => number, of: string) {
  const stream = randomStream(seed, of);
  const peaks = Array.from({ length: n / 25 }, () => ({
    at: stream.between(0, n * 1.3),
    high: stream.between(1, 30),
  }));
  const time_s = Float64Array.from({ length: n }, (_, i) => 1.3 * i + offset_s);
  const log = time_s.map((t) => {
    let level = 1;
    for (const { at, high } of peaks) level += high * Math.exp(-0.5 * ((t - at) / 6) ** 2);
    return Math.log(level * fall(t)) + 0.05 * stream.normal();
  });
  return { time_s, log };
}

const NONE = { falls: [], lone: [] };
const none = (): number => 1;
const sag = (t: number): number => (t >= 300 && t < 340 ? 0.4 : 1);

test('a fall of 60 % for 40 s in both: place and size', () => {
  for (let seed = 1; seed <= 10; seed++) {
    const one = made(seed, 480, 0, sag, 'one');
    const found = jointFalls(one, made(seed, 480, 0.65, sag, 'other'), OPTIONS).falls;
    expect(found).toHaveLength(1);
    expect(Math.abs(1.3 * found[0]!.first - 300)).toBeLessThan(2.7);
    expect(Math.abs(1.3 * found[0]!.past - 340)).toBeLessThan(2.7);
    // Scatter of four jumps of sd 0.05 x 2.2, and the slopes of peaks 6 s wide.
    expect(Math.abs(found[0]!.size_log + Math.log(0.4))).toBeLessThan(0.35);
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

test('a fall by half that stays is a lone jump', () => {
  const step = (t: number): number => (t >= 300 ? 0.5 : 1);
  for (let seed = 1; seed <= 6; seed++) {
    const one = made(seed, 480, 0, step, 'one');
    const { falls, lone } = jointFalls(one, made(seed, 480, 0.65, step, 'other'), OPTIONS);
    expect(falls).toEqual([]);
    expect(lone).toHaveLength(1);
    expect(Math.abs(1.3 * lone[0]!.at - 300)).toBeLessThan(2.7);
    expect(lone[0]!.size_log).toBeLessThan(-0.35);
  }
});
