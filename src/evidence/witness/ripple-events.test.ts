/** Ripples in the gains from scan to scan: what a difference passes of each frequency is known from the series itself. */
import { expect, test } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { periods } from './ripple-events.ts';
import type { SpraySeries } from './spray-series.ts';

const N = 600;
const SCATTER = 0.1;
const AMPLITUDE = 0.1;
const INTERVALS = 7.3;
const SEEDS = 10;

/** Gains of a factor that scatters by 10 % and ripples as much, for twenty periods from scan 200 on. */
function found(seed: number, amplitude: number): { period_s: number; amplitude: number }[] {
  const stream = randomStream(seed, 'factor');
  const time_s = Float64Array.from({ length: N }, (_, i) => i + 0.05 * stream.unit());
  const log = time_s.map((t, i) => {
    const wave = i >= 200 && i < 346 ? amplitude * Math.sin((2 * Math.PI * t) / INTERVALS) : 0;
    return SCATTER * stream.normal() + wave;
  });
  const rest = {
    time_s: time_s.subarray(1),
    value: log.subarray(1).map((x, i) => x - log[i]!),
    error: new Float64Array(N - 1).fill(0.02),
    steps: true,
  };
  return periods({ time_s } as SpraySeries, rest);
}

test('a ripple of 10 % in gains of scatter 10 %, where a difference passes less of it than of the scatter', () => {
  let seen = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const near = found(seed, AMPLITUDE).find(({ period_s }) => Math.abs(period_s / INTERVALS - 1) < 0.02);
    if (!near) continue;
    seen++;
    // 0.84 of it passes a difference; the scatter of 146 gains adds a sixth.
    expect(Math.abs(near.amplitude / AMPLITUDE - 1)).toBeLessThan(0.5);
  }
  expect(seen).toBeGreaterThanOrEqual(0.9 * SEEDS);
  for (let seed = 1; seed <= SEEDS; seed++) expect(found(100 + seed, 0)).toEqual([]);
});
