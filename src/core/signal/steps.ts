/**
 * Sudden changes that last: the mean of the minute after a moment against that of the minute before, at every sample,
 * held against what the same difference usually measures around; the change has to be there within a few samples, to
 * last, and not to undo an earlier one. Slow drift raises the yardstick by itself and is no step.
 * What it cannot do: two steps closer than a minute are one or none; in the first and last minute nothing is looked for.
 */
import { MAD_TO_SIGMA, median } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

export interface LevelStep {
  /** First sample at the new level. */
  at: number;
  /** Change as a log, negative for a fall. */
  size_log: number;
  sigmas: number;
}

export interface StepOptions {
  least_log: number;
  sigmas: number;
}

/** Time compared on each side, and at least so many samples. */
const BESIDE_S = 60;
const LEAST_BESIDE = 20;
/** The new level stands within so many samples, of which the middle two may lie between. */
const SHARP_SAMPLES = 8;
/** Share of the change that has to be there sharply, and to be left over the next three times BESIDE_S. Judgement. */
const SHARP_SHARE = 0.6;
const LASTING_SHARE = 0.6;
const LASTING = 4;
/** The yardstick is taken over this time: a step fills less than a quarter of it. */
const YARD_S = 600;
const YARD_SAMPLES = 201;
const YARD_LEAST = 0.8;

export function levelSteps(
  time_s: ArrayLike<number>,
  log: ArrayLike<number>,
  options: StepOptions,
): LevelStep[] {
  const n = log.length;
  const interval_s = n > 1 ? (time_s[n - 1]! - time_s[0]!) / (n - 1) : 0;
  if (!(interval_s > 0)) return [];
  const beside = Math.max(LEAST_BESIDE, Math.round(BESIDE_S / interval_s));
  const count = n - 2 * beside + 1;
  if (count < 2 * beside) return [];
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + log[i]!;
  const mean = (from: number, to: number): number => (sums[to]! - sums[from]!) / (to - from);
  const change = new Float64Array(count);
  const size = new Float64Array(count);
  const times = new Float64Array(count);
  for (let p = 0; p < count; p++) {
    const at = p + beside;
    change[p] = mean(at, at + beside) - mean(at - beside, at);
    size[p] = Math.abs(change[p]!);
    times[p] = time_s[at]!;
  }
  const whole = MAD_TO_SIGMA * median(size);
  const around = slowMedian(times, size, YARD_S / 2, YARD_SAMPLES);
  const found: LevelStep[] = [];
  for (let p = 0; p < count; p++) {
    const sigmas = size[p]! / Math.max(YARD_LEAST * whole, MAD_TO_SIGMA * around[p]!);
    if (!(size[p]! >= options.least_log && sigmas >= options.sigmas)) continue;
    const at = p + beside;
    const wanted = change[p]!;
    const sharp = mean(at + 1, at + 1 + SHARP_SAMPLES) - mean(at - 1 - SHARP_SAMPLES, at - 1);
    if (sharp / wanted < SHARP_SHARE) continue;
    const after = mean(at, Math.min(n, at + LASTING * beside));
    const before = mean(Math.max(0, at - LASTING * beside), at);
    if ((after - mean(at - beside, at)) / wanted < LASTING_SHARE) continue;
    if ((mean(at, at + beside) - before) / wanted < LASTING_SHARE) continue;
    found.push({ at, size_log: wanted, sigmas });
  }
  return largest(found, beside);
}

/** Of steps closer than the time compared the largest. */
function largest(found: LevelStep[], beside: number): LevelStep[] {
  found.sort((a, b) => Math.abs(b.size_log) - Math.abs(a.size_log));
  const kept: LevelStep[] = [];
  for (const step of found) if (!kept.some((other) => Math.abs(other.at - step.at) < beside)) kept.push(step);
  return kept.sort((a, b) => a.at - b.at);
}
