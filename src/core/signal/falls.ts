/**
 * Boxes of any length in a log series: a stretch whose mean lies below (or above) the means of BOTH stretches beside it.
 * Each length has its own yardstick, the middle size of the same difference all along the series around it, so that slow
 * wandering and scatter raise the threshold by themselves; a series that is in trouble most of the time therefore hides
 * its troubles, and only its scatter tells. Cost: samples times lengths.
 * Written for series in which elution has been voted down (background ions, matched peaks); a raw level is full of boxes.
 */
import { MAD_TO_SIGMA, median } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

export interface FallOptions {
  /** -1 finds falls, 1 rises. */
  sign: -1 | 1;
  /** Smallest difference told, as a log. */
  least_log: number;
  /** Difference in sigmas of its own length. */
  sigmas: number;
  longest_s: number;
  /** Longest stretch compared on each side. */
  beside_s: number;
}

export interface Fall {
  /** Samples [first, past). */
  first: number;
  past: number;
  /** Size as a log, positive; against the nearer of the two sides, and against their mean. */
  size_log: number;
  mean_log: number;
  sigmas: number;
}

export interface FallSearch {
  falls: Fall[];
  /** For each length tried: scans, and the smallest size that would have been told. */
  limits: { scans: number; length_s: number; size_log: number }[];
}

/** Lengths tried grow by this factor: a box of any length is covered to a quarter. */
const GROWTH = 1.4;
const LEAST_BESIDE = 6;
/** The yardstick is taken over this time and at least so many samples; never below this share of the whole series' own. */
const YARD_S = 400;
const YARD_SAMPLES = 161;
const YARD_LEAST = 0.8;
/** For long boxes also over so many of their lengths: the box and its sides then fill less than a third of it. */
const YARD_LENGTHS = 10;
/** Against the nearer side a box has at least this share of its size: a step has none. */
const NEAR_SHARE = 0.55;
/** A single sample is judged against so many sigmas more: scatter has long tails. */
const SHORT_EXTRA = [2, 1, 0.5] as const;

export function boxFalls(
  time_s: ArrayLike<number>,
  log: ArrayLike<number>,
  options: FallOptions,
): FallSearch {
  const n = log.length;
  const interval_s = n > 1 ? (time_s[n - 1]! - time_s[0]!) / (n - 1) : 0;
  if (!(interval_s > 0) || n < 4 * LEAST_BESIDE) return { falls: [], limits: [] };
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + log[i]!;
  const mean = (from: number, to: number): number => (sums[to]! - sums[from]!) / (to - from);
  const most = Math.min(Math.floor(n / 4), Math.max(1, Math.floor(options.longest_s / interval_s)));
  const furthest = Math.max(LEAST_BESIDE, Math.round(options.beside_s / interval_s));
  const found: Fall[] = [];
  const limits: FallSearch['limits'] = [];
  // The same memory for all lengths: of a long series there would be megabytes of it each time.
  const room = Array.from({ length: 6 }, () => new Float64Array(Math.max(0, n - 2 * LEAST_BESIDE)));
  for (let k = 1; k <= most; k = Math.max(k + 1, Math.round(k * GROWTH))) {
    const beside = Math.min(furthest, Math.max(LEAST_BESIDE, k));
    const count = n - k - 2 * LEAST_BESIDE + 1;
    if (count < YARD_SAMPLES / 4) break;
    const [near, both, size, times, yard, far] = room.map((whole) => whole.subarray(0, count)) as Six;
    for (let p = 0; p < count; p++) {
      const first = p + LEAST_BESIDE;
      const inside = mean(first, first + k);
      const left = options.sign * (inside - mean(Math.max(0, first - beside), first));
      const right = options.sign * (inside - mean(first + k, Math.min(n, first + k + beside)));
      near[p] = Math.min(left, right);
      both[p] = (left + right) / 2;
      size[p] = Math.abs(both[p]!);
      times[p] = time_s[first]!;
    }
    const whole = MAD_TO_SIGMA * median(size);
    const local = slowMedian(times, size, YARD_S / 2, YARD_SAMPLES, yard);
    const long_s = YARD_LENGTHS * k * interval_s;
    if (long_s > YARD_S) {
      // The nearer yardstick may hold little but the fall itself, the wider one other faults: the smaller of both.
      const wide = slowMedian(times, size, long_s / 2, YARD_SAMPLES, far);
      for (let p = 0; p < count; p++) local[p] = Math.min(local[p]!, wide[p]!);
    }
    const needed = options.sigmas + (SHORT_EXTRA[k - 1] ?? 0);
    limits.push({
      scans: k,
      length_s: k * interval_s,
      size_log: Math.max(options.least_log, needed * whole),
    });
    for (let p = 0; p < count; p++) {
      const mean_log = both[p]!;
      if (mean_log < options.least_log || near[p]! < NEAR_SHARE * mean_log) continue;
      const sigmas = mean_log / Math.max(YARD_LEAST * whole, MAD_TO_SIGMA * local[p]!);
      if (sigmas < needed) continue;
      const first = p + LEAST_BESIDE;
      found.push({ first, past: first + k, size_log: near[p]!, mean_log, sigmas });
    }
  }
  return { falls: chosen(found), limits };
}

type Six = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

/** The most certain first; whatever overlaps it is the same box seen at another length. */
function chosen(found: Fall[]): Fall[] {
  found.sort((a, b) => certainty(b) - certainty(a) || a.first - b.first);
  const kept: Fall[] = [];
  for (const fall of found) {
    if (!kept.some((other) => other.first < fall.past + 1 && fall.first < other.past + 1)) kept.push(fall);
  }
  return kept.sort((a, b) => a.first - b.first);
}

/** Of boxes that all stand out the one that is largest for its length. */
function certainty(fall: Fall): number {
  return fall.size_log * Math.sqrt(fall.past - fall.first);
}
