/** Jumps of the ions of two kinds of scans: a ripple of both is told with its period and size, that of one kind is not. */
import { expect, test } from 'vitest';
import { randomStream } from '../core/random.ts';
import { jointRippleEvents } from './joint-ripples.ts';
import type { WitnessSeries } from './other-groups.ts';

const INTERVAL_S = 1.3;
const SCANS = 480;
const SCATTER = 0.045;
const AMPLITUDE = 0.1;
/** The least-squares step of six scans at even times. */
const STEP = [0.42, -0.33, -1.08, 1.08, 0.33, -0.42];
/** The other kind's scatter has such a line, in step, one time in fourteen by chance. */
const KINDS_ALONE = 20;
const SELDOM = 0.2;
/** Noise of the fit of some 100 scans of each kind, and what the even filter leaves out. */
const SIZE_WITHIN = 0.25;

/** Common factor of each scan, white but for a ripple between 200 and 330 s, through the jump's own filter. */
function made(seed: number, of: string, off_s: number, period_s: number | null): WitnessSeries {
  const stream = randomStream(seed, of);
  const time_s = Array.from({ length: SCANS }, (_, i) => INTERVAL_S * i + off_s + 0.05 * stream.unit());
  const log = time_s.map(
    (t) =>
      SCATTER * stream.normal() +
      (period_s !== null && t > 200 && t < 330 ? AMPLITUDE * Math.sin((2 * Math.PI * t) / period_s) : 0),
  );
  const value = new Float64Array(SCANS).fill(Number.NaN);
  for (let i = 3; i < SCANS - 2; i++) value[i] = STEP.reduce((sum, w, k) => sum + w * log[i - 3 + k]!, 0);
  return { time_s, log, sigma: SCATTER, jump: { value, error: value.map(() => 0.02) } };
}

test('a ripple of 10 % of both kinds, of four and seven intervals: an alarm with its period and amplitude', () => {
  for (const intervals of [4, 7]) {
    const period_s = intervals * INTERVAL_S;
    for (let seed = 1; seed <= 5; seed++) {
      const [event, ...rest] = jointRippleEvents(
        made(seed, 'one', 0, period_s),
        [made(seed, 'other', 0.65, period_s)],
        0,
      );
      expect(rest).toEqual([]);
      expect(event).toMatchObject({ kind: 'ripple', group: 0, common: true });
      expect(event!.confidence).toBeGreaterThanOrEqual(0.5);
      expect(Math.abs(event!.period_s! / period_s - 1)).toBeLessThan(0.02);
      expect(event!.start_s).toBeLessThan(330);
      expect(event!.end_s).toBeGreaterThan(200);
      expect(event!.sentence).toMatch(/ripple together by (\d+|\d+\.\d+) %/);
    }
  }
});

test('the size is that of the spray, not of its jumps', () => {
  const period_s = 4 * INTERVAL_S;
  const sizes = [1, 2, 3].map((seed) => {
    const [event] = jointRippleEvents(
      made(seed, 'one', 0, period_s),
      [made(seed, 'other', 0.65, period_s)],
      0,
    );
    return Number(/by ([\d.]+) %/.exec(event!.sentence)![1]) / 100;
  });
  // The stretch told is wider than the ripple, which thins it.
  for (const size of sizes) {
    expect(size).toBeGreaterThan(AMPLITUDE * (0.6 - SIZE_WITHIN));
    expect(size).toBeLessThan(AMPLITUDE * (1 + SIZE_WITHIN));
  }
});

test('a ripple of one kind alone is seldom one, scatter and kinds without jumps never', () => {
  let alone = 0;
  for (let seed = 1; seed <= KINDS_ALONE; seed++) {
    const one = made(seed, 'one', 0, 4 * INTERVAL_S);
    alone += jointRippleEvents(one, [made(seed, 'other', 0.65, null)], 0).length;
    const quiet = made(seed, 'quiet', 0, null);
    expect(jointRippleEvents(quiet, [made(seed, 'other', 0.65, null)], 0)).toEqual([]);
    const { jump, ...level } = one;
    expect(jump).toBeDefined();
    expect(jointRippleEvents(level, [made(seed, 'other', 0.65, 5.2)], 0)).toEqual([]);
  }
  expect(alone).toBeLessThanOrEqual(SELDOM * KINDS_ALONE);
});
