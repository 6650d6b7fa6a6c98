/**
 * A slow rhythm of the level, 0.02 to 20 Hz: pump, bubbles, a wet face; never the natural mode of a small meniscus (tens of kHz).
 * One periodogram of the slow copy at about 50 pieces a second (blocks as long as they come), a drift taken out; the rhythm is the frequency
 * whose own bins and those of its harmonics hold most of the variance. A pump holds nearly all of it in them; jets that come
 * and go, wander and drift spread theirs. Needs six periods. Breaks for a pump whose period wanders by more than a bin.
 */

import { powerPlan } from '../../core/signal/current-fft.ts';
import { frequencyText } from '../../core/signal/index.ts';
import type { SlowLevel } from './slow-level.ts';

export interface Rhythm {
  frequency_Hz: number;
  amplitude_A: number;
  over_floor: number;
  /** Of the variance of the slow copy. */
  share: number;
}

const RATE_HZ = 50;
const LONGEST = 8192;
const SHORTEST = 64;
const PERIODS = 5.5;
const FASTEST_HZ = 20;
const HARMONICS = 4;
/** Bins of a line under a Hann window, on each side of its middle. */
const HALF_WIDTH = 2;

export function rhythmOf(slow: SlowLevel): Rhythm | null {
  const fold = Math.max(1, Math.floor(slow.rate_Hz / RATE_HZ));
  const length = Math.floor(slow.mean.length / fold);
  const rate = slow.rate_Hz / fold;
  const means = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    let sum = 0;
    for (let j = 0; j < fold; j++) sum += slow.mean[k * fold + j]!;
    means[k] = sum / fold;
  }
  const block = Math.min(length, LONGEST);
  let size = SHORTEST;
  while (size < block) size *= 2;
  if (block < SHORTEST / 2) return null;
  const plan = powerPlan(size);
  const density = new Float64Array(size / 2 + 1);
  const samples = new Float64Array(size);
  let blocks = 0;
  let variance = 0;
  // The window of the plan spans `size`: a shorter block is stretched over it.
  for (let from = 0; from + block <= length; from += block, blocks++) {
    const part = detrended(means, from, block);
    variance += part.variance;
    for (let k = 0; k < size; k++) samples[k] = at(part.samples, ((k + 0.5) * block) / size - 0.5);
    plan.add(samples, 0, 0, density);
  }
  variance /= blocks;
  const step_Hz = rate / block;
  return strongest(density, step_Hz, variance, Math.min(FASTEST_HZ, 0.45 * rate));
}

function strongest(
  density: Float64Array,
  step_Hz: number,
  variance: number,
  fastest_Hz: number,
): Rhythm | null {
  const last = Math.min(density.length - 1, Math.floor(fastest_Hz / step_Hz));
  let total = 0;
  for (let k = 1; k < density.length; k++) total += density[k]!;
  let best: Rhythm | null = null;
  if (!(total > 0)) return null;
  for (let k = Math.ceil(PERIODS); k <= last; k++) {
    if (density[k]! < density[k - 1]! || density[k]! < (density[k + 1] ?? 0)) continue;
    let held = 0;
    let first = 0;
    let bins = 0;
    for (let h = 1; h <= HARMONICS; h++) {
      // Lines of harmonics must not grow into one another.
      const half = Math.min(HALF_WIDTH, Math.floor((k - 1) / 2));
      for (let j = h * k - half; j <= h * k + half; j++) {
        held += density[j] ?? 0;
        bins++;
      }
      if (h === 1) first = held;
    }
    const share = held / total;
    const floor = (total - held) / Math.max(1, density.length - bins);
    const over_floor = held / bins / Math.max(floor, 1e-300);
    if (best === null || share > best.share)
      best = {
        frequency_Hz: k * step_Hz,
        amplitude_A: Math.sqrt((2 * variance * Math.max(first, 0.5 * held)) / total),
        over_floor,
        share,
      };
  }
  return best;
}

function at(samples: Float64Array, place: number): number {
  const k = Math.max(0, Math.min(samples.length - 2, Math.floor(place)));
  const t = Math.min(1, Math.max(0, place - k));
  return samples[k]! * (1 - t) + samples[k + 1]! * t;
}

/** A straight drift and a lasting step are no rhythm: the line through both ends' means is taken out. */
function detrended(
  means: Float64Array,
  from: number,
  size: number,
): { samples: Float64Array; variance: number } {
  const samples = means.slice(from, from + size);
  const quarter = Math.floor(size / 4);
  const meanOf = (a: number, b: number) => samples.subarray(a, b).reduce((s, x) => s + x, 0) / (b - a);
  const left = meanOf(0, quarter);
  const right = meanOf(size - quarter, size);
  const slope = (right - left) / (size - quarter);
  let variance = 0;
  for (let k = 0; k < size; k++) {
    samples[k]! -= (left + right) / 2 + slope * (k - size / 2);
    variance += samples[k]! ** 2 / size;
  }
  return { samples, variance };
}

export function rhythmText(rhythm: Rhythm): string {
  return rhythm.frequency_Hz >= 1
    ? frequencyText(rhythm.frequency_Hz)
    : `once in ${Number((1 / rhythm.frequency_Hz).toPrecision(2))} s`;
}
