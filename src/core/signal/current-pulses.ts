/**
 * Pulses in one window by two thresholds: up through 0.5 of the height, armed again below 0.3. The height is the spread from the 1 to the 99 %
 * quantile where pulses fill the window, else that of the highest sample (a few isolated spikes). Only pulses that stand
 * clear of the scatter from sample to sample are counted; faster ones than the meter passes are seen as a line, or not at all.
 */
import { median } from '../numeric/robust.ts';
import type { Quantiles } from './current-quantiles.ts';
import type { Pulses } from './current-window.ts';

const UP = 0.5;
const DOWN = 0.3;
/** Heights above the baseline in units of the scatter: for pulses that fill the window, and for isolated spikes. */
const CLEAR = 8;
const CLEAR_SPIKE = 14;
/** Intervals kept for their scatter. */
const MOST_INTERVALS = 20000;

export function pulsesIn(
  samples: Float64Array,
  count: number,
  rate_Hz: number,
  quantiles: Quantiles,
  max: number,
  scatter: number,
): Pulses | null {
  const filled = quantiles.q99 - quantiles.q01;
  const base = filled > CLEAR * scatter ? quantiles.q01 : quantiles.q50;
  const spikes = max - quantiles.q50 > 4 * Math.max(filled, 1e-300);
  const height = spikes ? max - base : filled;
  if (!(height > (spikes ? CLEAR_SPIKE : CLEAR) * scatter)) return null;
  const up = base + UP * height;
  const down = base + DOWN * height;
  // Isolated spikes of unlike height are all counted: a threshold near the scatter, not near the highest.
  const threshold = spikes ? Math.min(up, base + CLEAR_SPIKE * Math.max(scatter, filled / 5)) : up;
  const rearm = spikes ? base + 0.5 * (threshold - base) : down;
  let armed = samples[0]! < rearm;
  let found = 0;
  let above = 0;
  let area = 0;
  let last = -1;
  const intervals: number[] = [];
  for (let k = 0; k < count; k++) {
    const x = samples[k]!;
    area += x - base;
    if (x > base + height / 3) above++;
    if (armed) {
      if (x > threshold) {
        armed = false;
        found++;
        if (last >= 0 && intervals.length < MOST_INTERVALS) intervals.push(k - last);
        last = k;
      }
    } else if (x < rearm) armed = true;
  }
  if (found === 0) return null;
  return {
    count: found,
    rate_Hz: (found * rate_Hz) / count,
    interval_scatter: intervals.length >= 3 ? scatterOf(intervals) : null,
    height,
    base,
    duty: above / count,
    area: area / found / rate_Hz,
  };
}

/** Half the spread of the middle 68 % over the median. */
function scatterOf(intervals: readonly number[]): number {
  const sorted = Float64Array.from(intervals).sort();
  const low = sorted[Math.floor(0.16 * (sorted.length - 1))]!;
  const high = sorted[Math.ceil(0.84 * (sorted.length - 1))]!;
  return (high - low) / 2 / median(sorted);
}
