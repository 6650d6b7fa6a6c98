/**
 * The slow copy of a trace (pieces of about 1 ms) made ready for reading its level over longer than a window: mains fitted and taken
 * out second by second where windows heard it, and the scatter of a piece about its level. Approximation: the fit takes a little of a
 * level that hops just at the mains frequency. Pieces without mains are the samples' own means.
 */
import { quantile } from '../../core/numeric/robust.ts';
import type { CurrentWindow, SlowCopy } from '../../core/signal/index.ts';
import { firstPast } from '../within-times.ts';
import { windowEnd } from './window-ends.ts';

export interface SlowLevel {
  rate_Hz: number;
  start_s: Float64Array;
  mean: Float64Array;
  /** Inside each piece, without what mains does there. */
  scatter: Float32Array;
  /** Of a piece about a level that stays: from first differences. */
  noise: number;
  /** The same about this piece: regimes differ in it. */
  noiseAt(piece: number): number;
  /** What the mains that was taken out scattered inside the pieces, middle of all. */
  hum: number;
  /** In one piece. */
  samples: number;
  /** Of the converter; 0 where none is seen. */
  step: number;
}

const HARMONICS = 6;
/** Mains is taken out where so many windows heard it. */
const LEAST_SHARE = 0.3;
const SECOND_S = 1;
const LEAST_PERIODS = 4;
/** A sine with harmonics stays below this many of its own median. */
const CUT = 3;
const LEAST_PIECES = 16;
/** Median of |difference| of two normal pieces over their standard deviation. */
const DIFFERENCE = Math.SQRT2 * 0.67449;
/** Noise that a converter's steps leave, where none is seen between them. */
const STEP_SHARE = 0.6;
const MOST_DIFFERENCES = 20000;
/** Pieces that share one noise. */
const NOISE_BLOCK = 512;
/** A piece may begin this much before its window, by rounding. */
const SLACK_S = 1e-9;

export function slowLevel(
  slow: SlowCopy,
  windows: readonly CurrentWindow[],
  rate_Hz: number,
  step: number,
): SlowLevel {
  const mean = Float64Array.from(slow.mean);
  const scatter = Float32Array.from(slow.scatter);
  const samples = Math.max(1, Math.round(rate_Hz / slow.rate_Hz));
  let hum = 0;
  for (const base of [50, 60] as const) {
    const heard = windows.filter((w) => w.mains?.base_Hz === base).length;
    if (heard > 0 && heard >= LEAST_SHARE * windows.length)
      hum = Math.hypot(hum, takeOut(mean, scatter, slow.rate_Hz, base, samples));
  }
  const steps = (STEP_SHARE * step) / Math.sqrt(samples);
  const least = Math.max(steps, 1e-15);
  const blocks = Float64Array.from({ length: Math.ceil(mean.length / NOISE_BLOCK) }, (_, b) =>
    Math.max(noiseOf(mean.subarray(b * NOISE_BLOCK, (b + 1) * NOISE_BLOCK)), least),
  );
  const noiseAt = (piece: number) => blocks[Math.floor(piece / NOISE_BLOCK)] ?? least;
  return { ...slow, mean, scatter, hum, samples, step, noise: Math.max(noiseOf(mean), least), noiseAt };
}

/** Scatter of the pieces in a window about their own straight line, what changes from piece to piece as white noise taken out; undefined for few pieces. */
export function wanderIn(
  { mean, start_s }: SlowLevel,
  window: CurrentWindow,
  rate_Hz: number,
): number | undefined {
  const from = firstPast(start_s, (time) => time >= window.start_s - SLACK_S);
  const end_s = windowEnd(window, rate_Hz) - SLACK_S;
  const to = firstPast(start_s, (time) => time >= end_s);
  const n = to - from;
  if (n < LEAST_PIECES) return undefined;
  let sum = 0;
  let slope = 0;
  for (let k = 0; k < n; k++) {
    sum += mean[from + k]!;
    slope += mean[from + k]! * (k - (n - 1) / 2);
  }
  const middle = sum / n;
  slope /= (n * (n * n - 1)) / 12;
  let squares = 0;
  const sizes = new Float64Array(n - 1);
  for (let k = 0; k < n; k++) {
    squares += (mean[from + k]! - middle - slope * (k - (n - 1) / 2)) ** 2;
    if (k > 0) sizes[k - 1] = Math.abs(mean[from + k]! - mean[from + k - 1]!);
  }
  const white = quantile(sizes, 0.5) / DIFFERENCE;
  return Math.sqrt(Math.max(0, squares / (n - 2) - white * white));
}

function noiseOf(mean: Float64Array): number {
  const stride = Math.max(1, Math.floor(mean.length / MOST_DIFFERENCES));
  const sizes: number[] = [];
  for (let k = 1; k < mean.length; k += stride) sizes.push(Math.abs(mean[k]! - mean[k - 1]!));
  return sizes.length === 0 ? 0 : quantile(sizes, 0.5) / DIFFERENCE;
}

/**
 * Each harmonic on its own over a whole number of periods, on what a mean over one period leaves: that holds nothing of the mains, and a step
 * only for a period; the largest of what it leaves are cut, so that a step lends little to the fit.
 */
function takeOut(
  mean: Float64Array,
  scatter: Float32Array,
  rate_Hz: number,
  base: number,
  samples: number,
): number {
  let squares = 0;
  const block = Math.round(SECOND_S * rate_Hz);
  const period = Math.max(1, Math.round(rate_Hz / base));
  for (let from = 0; from < mean.length; from += block) {
    const to = Math.min(mean.length, from + block);
    const periods = Math.floor(((to - from) * base) / rate_Hz);
    if (periods < LEAST_PERIODS) continue;
    const whole = Math.round((periods * rate_Hz) / base);
    const rest = withoutSlow(mean, from, to, period);
    const slope = new Float64Array(to - from);
    for (let h = 1; h <= HARMONICS && h * base < 0.45 * rate_Hz; h++) {
      const turn = (2 * Math.PI * h * base) / rate_Hz;
      let c = 0;
      let s = 0;
      for (let k = 0; k < whole; k++) {
        c += rest[k]! * Math.cos(turn * k);
        s += rest[k]! * Math.sin(turn * k);
      }
      c *= 2 / whole;
      s *= 2 / whole;
      for (let k = 0; k < to - from; k++) {
        const [cos, sin] = [Math.cos(turn * k), Math.sin(turn * k)];
        mean[from + k]! -= c * cos + s * sin;
        slope[k]! += turn * (s * cos - c * sin);
      }
    }
    // A ramp over one piece scatters by its height over the root of 12, in few samples by a little more.
    for (let k = 0; k < slope.length; k++) {
      const ramp = (slope[k]! ** 2 * (samples + 1)) / (12 * samples);
      squares += ramp;
      scatter[from + k] = Math.sqrt(Math.max(0, scatter[from + k]! ** 2 - ramp));
    }
  }
  return Math.sqrt(squares / Math.max(1, mean.length));
}

function withoutSlow(mean: Float64Array, from: number, to: number, period: number): Float64Array {
  const sums = new Float64Array(to - from + 1);
  for (let k = from; k < to; k++) sums[k - from + 1] = sums[k - from]! + mean[k]!;
  const rest = new Float64Array(to - from);
  const last = to - from - period;
  for (let k = 0; k < rest.length; k++) {
    const at = Math.max(0, Math.min(last, k - (period >> 1)));
    rest[k] = mean[from + k]! - (sums[at + period]! - sums[at]!) / period;
  }
  const most = CUT * quantile(rest.map(Math.abs), 0.5);
  return rest.map((x) => Math.max(-most, Math.min(most, x)));
}
