/**
 * A slow rhythm of the level, 0.02 to 20 Hz: pump, bubbles, a wet face; never the natural mode of a small meniscus (tens of kHz).
 * Periodograms of the slow copy at about 50 samples per second, as long as the trace allows; needs six periods.
 */

import { powerPlan } from '../../core/signal/current-fft.ts';
import { strongestComb } from '../../core/signal/current-lines.ts';
import { frequencyText, type SlowCopy } from '../../core/signal/index.ts';

export interface Rhythm {
  frequency_Hz: number;
  amplitude_A: number;
  over_floor: number;
  /** Of the variance of the slow copy. */
  share: number;
  /** As narrow as the stretch can show: jets that come and go make a broad hump. */
  narrow: boolean;
}

const RATE_HZ = 50;
const LONGEST = 8192;
const PERIODS = 6;
const NARROW_BINS = 5;

export function rhythmOf(slow: SlowCopy): Rhythm | null {
  const fold = Math.max(1, Math.floor(slow.rate_Hz / RATE_HZ));
  const length = Math.floor(slow.mean.length / fold);
  const rate = slow.rate_Hz / fold;
  let size = LONGEST;
  while (size > 32 && size * 2.5 > length) size /= 2;
  if (size * 2.5 > length) return null;
  const means = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    let sum = 0;
    for (let j = 0; j < fold; j++) sum += slow.mean[k * fold + j]!;
    means[k] = sum / fold;
  }
  const plan = powerPlan(size);
  const density = new Float64Array(size / 2 + 1);
  let variance = 0;
  let segments = 0;
  for (let from = 0; from + size <= length; from += size / 2, segments++) {
    const mean = detrended(means, from, size);
    plan.add(mean.samples, 0, 0, density);
    variance += mean.variance;
  }
  variance /= segments;
  for (let k = 0; k < density.length; k++) density[k]! /= segments * rate;
  const comb = strongestComb({
    density,
    step_Hz: rate / size,
    averaged: Math.max(1, 0.75 * segments),
    variance,
    passed: (f) => f > 20 || f < (PERIODS * rate) / size,
  });
  if (!comb) return null;
  return {
    frequency_Hz: comb.frequency_Hz,
    amplitude_A: Math.sqrt(2 * comb.power),
    over_floor: comb.over_floor,
    share: comb.share,
    narrow: (comb.width * comb.frequency_Hz * size) / rate <= NARROW_BINS,
  };
}

/** A straight drift and a lasting step are no rhythm: the line through both ends' means is taken out. */
function detrended(
  means: Float64Array,
  from: number,
  size: number,
): { samples: Float64Array; variance: number } {
  const samples = means.slice(from, from + size);
  const quarter = size / 4;
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
