/**
 * The features of one window of samples (see current-window.ts). Samples without a number take the value before them, and their
 * share is told. Mains is fitted and taken out first, so that pulses and bursts are looked for in what remains. Arrays are made
 * once and used for every window.
 */
import { burstsOf, levelsOf, stretchesOf } from './current-bursts.ts';
import { powerPlan } from './current-fft.ts';
import { strongestComb } from './current-lines.ts';
import { isMains, mainsOf, withoutMains } from './current-mains.ts';
import { pulsesIn } from './current-pulses.ts';
import { quantileFinder } from './current-quantiles.ts';
import type { CurrentWindow } from './current-window.ts';

export interface FeatureFinder {
  /** Points of one periodogram, and width of a bin. */
  size: number;
  step_Hz: number;
  /** Mean density of the last window [units²/Hz], with its mains. */
  density: Float64Array;
  /** Changes `samples` (missing values filled, mains taken out). */
  find(samples: Float64Array, count: number, start_s: number, voltage: number | null): CurrentWindow;
}

/** Lines of mains this strong are taken out before anything else is looked for. */
const MAINS_TAKEN_OUT = 0.05;
const NORMAL_QUARTILES = 1.349;
/** White noise from first differences: their median size over sqrt(2)·0.6745. */
const DIFFERENCE = Math.SQRT2 * 0.67449;
/** Enough for a median to 4 %. */
const DIFFERENCES = 1024;

export function segmentSize(windowSamples: number): number {
  let size = 64;
  while (size < 2048 && size * 8 <= windowSamples) size *= 2;
  return Math.min(size, 2 ** Math.max(4, Math.floor(Math.log2(Math.max(16, windowSamples)))));
}

export function featureFinder(rate_Hz: number, windowSamples: number): FeatureFinder {
  const size = segmentSize(windowSamples);
  const plan = powerPlan(size);
  const density = new Float64Array(size / 2 + 1);
  const quantiles = quantileFinder();
  const step_Hz = rate_Hz / size;

  function spectrum(samples: Float64Array, count: number, mean: number): number {
    density.fill(0);
    const hop = size / 2;
    let segments = 0;
    for (let from = 0; from + size <= count; from += hop, segments++) plan.add(samples, from, mean, density);
    if (segments > 0) for (let k = 0; k < density.length; k++) density[k]! /= segments * rate_Hz;
    return segments;
  }

  return {
    size,
    step_Hz,
    density,
    find(samples, count, start_s, voltage) {
      let missing = 0;
      let last = 0;
      for (let k = 0; k < count; k++) {
        if (Number.isNaN(samples[k]!)) missing++;
        else {
          last = samples[k]!;
          break;
        }
      }
      missing = 0;
      for (let k = 0; k < count; k++) {
        const x = samples[k]!;
        if (Number.isNaN(x)) {
          samples[k] = last;
          missing++;
        } else last = x;
      }
      const { mean, variance, min, max, at_min, at_max, skew } = moments(samples, count);
      const q = quantiles.find(samples, count, min, max);
      const segments = spectrum(samples, count, mean);
      const mains = mainsOf(samples, count, rate_Hz, mean, variance);
      const removed = mains !== null && mains.share > MAINS_TAKEN_OUT && skew < 2;
      if (removed) withoutMains(samples, count, rate_Hz, mains);
      const rest = removed ? moments(samples, count) : undefined;
      const restVariance = rest?.variance ?? variance;
      const restQuantiles = rest ? quantiles.find(samples, count, rest.min, rest.max) : q;
      const white_sd = whiteOf(samples, count);
      const comb =
        segments >= 2
          ? strongestComb({
              density,
              step_Hz,
              averaged: Math.max(1, 0.75 * segments),
              variance: restVariance,
              passed: (f) => mains !== null && isMains(f, 1.6 * step_Hz),
            })
          : null;
      // Where pulses are the change from sample to sample, first differences say nothing of the noise: the lower half does.
      const low = lowerScatter(restQuantiles);
      const pulses = pulsesIn(
        samples,
        count,
        rate_Hz,
        restQuantiles,
        rest?.max ?? max,
        Math.max(Math.min(white_sd, low), 1e-300),
      );
      const period =
        pulses && pulses.count > 3 ? rate_Hz / pulses.rate_Hz : comb ? rate_Hz / comb.frequency_Hz : 0;
      const stretches = stretchesOf(
        samples,
        count,
        comb ? Math.min(period, rate_Hz / comb.frequency_Hz) : period,
      );
      const slow_sd = slowScatter(samples, count, rate_Hz, white_sd);
      const found: CurrentWindow = {
        start_s,
        samples: count,
        missing: missing / count,
        mean,
        sd: Math.sqrt(variance),
        robust_sd: (q.q75 - q.q25) / NORMAL_QUARTILES,
        min,
        max,
        skew,
        white_sd,
        slow_sd,
        at_min,
        at_max,
        ...q,
        comb,
        mains: mains && { base_Hz: mains.base_Hz, amplitude: mains.amplitude, share: mains.share },
        pulses,
        bursts: stretches && burstsOf(stretches, Math.min(white_sd, low)),
        levels: stretches && levelsOf(stretches, rate_Hz),
        voltage,
      };
      return found;
    },
  };
}

function moments(samples: Float64Array, count: number) {
  let sum = 0;
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  let at_min = 0;
  let at_max = 0;
  for (let k = 0; k < count; k++) {
    const x = samples[k]!;
    sum += x;
    if (x <= min) {
      at_min = x === min ? at_min + 1 : 1;
      min = x;
    }
    if (x >= max) {
      at_max = x === max ? at_max + 1 : 1;
      max = x;
    }
  }
  const mean = sum / count;
  let second = 0;
  let third = 0;
  for (let k = 0; k < count; k++) {
    const d = samples[k]! - mean;
    const dd = d * d;
    second += dd;
    third += dd * d;
  }
  const variance = second / Math.max(1, count - 1);
  const skew = variance > 0 ? third / count / variance ** 1.5 : 0;
  return { mean, variance, min, max, at_min, at_max, skew };
}

function whiteOf(samples: Float64Array, count: number): number {
  const stride = Math.max(1, Math.floor((count - 1) / DIFFERENCES));
  const sizes = new Float64Array(Math.max(0, Math.floor((count - 1) / stride)));
  for (let k = 0; k < sizes.length; k++) sizes[k] = Math.abs(samples[k * stride + 1]! - samples[k * stride]!);
  if (sizes.length === 0) return 0;
  return sizes.sort()[sizes.length >> 1]! / DIFFERENCE;
}

/** Standard deviation of a normal sample by its lower half: pulses rise, so the lower half holds the noise. */
function lowerScatter(q: { q05: number; q25: number; q50: number }): number {
  return Math.max((q.q25 - q.q05) / 0.9704, 0) || (q.q50 - q.q05) / 1.645;
}

function slowScatter(samples: Float64Array, count: number, rate_Hz: number, white: number): number {
  const size = Math.max(1, Math.round(rate_Hz / 1000));
  const pieces = Math.floor(count / size);
  if (pieces < 4) return 0;
  let sum = 0;
  let squares = 0;
  for (let p = 0; p < pieces; p++) {
    let s = 0;
    for (let k = p * size; k < (p + 1) * size; k++) s += samples[k]!;
    s /= size;
    sum += s;
    squares += s * s;
  }
  const mean = sum / pieces;
  const variance = Math.max(0, squares / pieces - mean * mean);
  return Math.sqrt(Math.max(0, variance - (size > 1 ? (white * white) / size : 0)));
}
