import { expect, it } from 'vitest';
import { expectWithin } from '../../../test/within.ts';
import { currentStream } from '../../core/signal/index.ts';
import { slowLevel } from './slow-level.ts';

it('takes mains out of the means and out of the scatter inside the pieces', () => {
  const rate_Hz = 20_000;
  const amplitude = 8e-9;
  const stream = currentStream({ rate_Hz, start_s: 0, window_s: undefined, expected_samples: 4 * rate_Hz });
  const samples = Float64Array.from(
    { length: 4 * rate_Hz },
    (_, k) => amplitude * Math.sin((2 * Math.PI * 60 * k) / rate_Hz),
  );
  stream.push(samples, samples.length);
  const stats = stream.end();
  const level = slowLevel(stats.slow, stats.windows, rate_Hz, stats.extremes.step);
  // A ramp over 1 ms at its root mean square slope, over the root of 12.
  const ramp = (2 * Math.PI * 60 * 1e-3 * amplitude) / Math.sqrt(2) / Math.sqrt(12);
  expectWithin(level.hum, ramp, {
    relative: 0.1,
    reason: 'a piece is a little longer than the span of its samples',
  });
  const rms = (values: ArrayLike<number>) =>
    Math.sqrt(Array.from(values).reduce((s, x) => s + x * x, 0) / values.length);
  expect(rms(level.scatter)).toBeLessThan(0.35 * ramp);
  expect(rms(level.mean)).toBeLessThan(0.05 * amplitude);
});
