/**
 * How much all ions jump together between two scans, their own elution taken out: each ion is followed through HALF scans
 * before and after, a straight line common to both sides is fitted with a step between them, and the step's middle over
 * the ions is taken. An elution front moves an ion along a line that a few scans follow; a spray that changes at once
 * moves all of them off it.
 * Weighted by the ions' counts, the weakest peak of a scan taken for ten ions: judgement, and only the weights rest on it.
 * A change slower than HALF scans bends the line and mostly goes unseen; the answer to a step rings in the scans beside it
 * (jump sizes of RING, the other way).
 */
import { longestSpacing, pauseFrom } from '../../core/signal/index.ts';
import { combined } from './ion-mean.ts';
import type { StrongPeaks } from './pair-gain.ts';

/** Scans on each side. */
export const HALF = 3;
/** A step answers two scans off with this share of its size, the other way (scans at even times, computed). */
export const RING = 0.42;
/** Fewer ions give no value. Judgement: with three one bad ion carries it. */
export const LEAST_JUMP_IONS = 4;
/** Of more ions every second, third … is taken: their common part is known well enough. */
const MOST_IONS = 128;
const EDGE_IONS = 10;
/** What an ion scatters besides counting. Judgement. */
const FLOOR = 0.05;

export interface CommonJump {
  /** ln change; NaN for none. */
  value: number;
  error: number;
}

const weight = new Float64Array(2 * HALF);
const row = new Float32Array(MOST_IONS);
const sigma = new Float64Array(MOST_IONS);
const size = new Float64Array(MOST_IONS);
const rank = new Uint8Array(MOST_IONS);

/** `frames` are 2 HALF scans, the oldest first; the jump stands in the middle. */
export function commonJump(frames: readonly StrongPeaks[], time_s: ArrayLike<number>): CommonJump {
  const none = { value: Number.NaN, error: Number.NaN };
  const last = frames.length - 1;
  const newest = frames[last]!;
  const noise = stepWeights(time_s);
  if (!(noise > 0)) return none;
  const stride = Math.max(1, Math.ceil(newest.count / MOST_IONS));
  let ions = 0;
  for (let k = 0; k < newest.count; k += stride) {
    let at = k;
    let sum = 0;
    let counts = Number.POSITIVE_INFINITY;
    for (let f = last; f >= 0; f--) {
      const frame = frames[f]!;
      const log = frame.log[at]!;
      sum += weight[f]! * log;
      counts = Math.min(counts, log - frame.weakest_log);
      if (f > 0) {
        at = frame.from[at]!;
        if (at < 0) break;
      }
    }
    if (at < 0) continue;
    row[ions] = sum;
    sigma[ions++] = noise * Math.sqrt(Math.exp(-counts) / EDGE_IONS + FLOOR * FLOOR);
  }
  if (ions < LEAST_JUMP_IONS) return none;
  const jump = combined(row, sigma, 0, ions);
  return Math.abs(jump.value) >= ASKED_ERRORS * jump.error
    ? { ...jump, value: sharedByMost(jump.value, ions) }
    : jump;
}

/** What a jump is asked from, in its own errors. */
const ASKED_ERRORS = 2;
/** So much of the ions' weight has to take part, each with its own scatter put back, in this share of the jump: else the rest is elution. Judgement. */
const PART = 0.75;
const PART_SHARE = 0.6;
/** The quartile of normal scatter lies so many sigma from its middle. */
const QUARTILE_SIGMA = 0.6745;

/** `value`, or what all but a quarter of the ions have of it where that is less than PART_SHARE: ions that stand still deny the rest. */
function sharedByMost(value: number, ions: number): number {
  const sense = Math.sign(value);
  const least = PART_SHARE * Math.abs(value);
  let total = 0;
  let less = 0;
  for (let k = 0; k < ions; k++) {
    const weight_k = 1 / (sigma[k]! * sigma[k]!);
    size[k] = sense * row[k]! + QUARTILE_SIGMA * sigma[k]!;
    total += weight_k;
    if (size[k]! < least) less += weight_k;
    rank[k] = k;
  }
  if (less < (1 - PART) * total) return value;
  const order = rank.subarray(0, ions).sort((a, b) => size[a]! - size[b]!);
  let sum = 0;
  for (const k of order) {
    sum += 1 / (sigma[k]! * sigma[k]!);
    if (sum >= (1 - PART) * total) return sense * Math.max(0, size[k]!);
  }
  return value;
}

/** Size of the jumps of a ripple of one, of so many scan intervals, where the scans come at even times. */
export function rippleInJumps(intervals: number): number {
  if (!(stepWeights(EVEN) > 0)) return Number.NaN;
  let sum = 0;
  for (let i = 0; i < 2 * HALF; i++)
    sum += weight[i]! * Math.sin((2 * Math.PI * (i - HALF + 0.5)) / intervals);
  return Math.abs(sum);
}

const EVEN = Float64Array.from({ length: 2 * HALF }, (_, i) => i);

/** Weights of the least-squares step with a constant and a slope; returns the root of their sum of squares, 0 for none: what lies beyond a pause would rule the slope. */
function stepWeights(time_s: ArrayLike<number>): number {
  const n = 2 * HALF;
  let mean = 0;
  for (let i = 0; i < n; i++) mean += time_s[i]! / n;
  let xx = 0;
  let xs = 0;
  for (let i = 0; i < n; i++) {
    const x = time_s[i]! - mean;
    xx += x * x;
    xs += x * (i < HALF ? -0.5 : 0.5);
  }
  if (!(xx > 0)) return 0;
  let widest = 0;
  let narrowest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < n; i++) {
    const gap = time_s[i]! - time_s[i - 1]!;
    widest = Math.max(widest, gap);
    narrowest = Math.min(narrowest, gap);
  }
  // Asked of every scan: the usual spacing is only sought where the narrowest does not settle it.
  if (widest > longestSpacing(narrowest) && widest > pauseFrom(time_s)) return 0;
  let scale = 0;
  for (let i = 0; i < n; i++) {
    const side = i < HALF ? -0.5 : 0.5;
    weight[i] = side - ((time_s[i]! - mean) * xs) / xx;
    scale += weight[i]! * side;
  }
  if (!(scale > LEAST_SCALE)) return 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    weight[i] = weight[i]! / scale;
    squares += weight[i]! * weight[i]!;
  }
  return Math.sqrt(squares);
}

/** Of 0.34 at even times: below it step and slope are the same thing. */
const LEAST_SCALE = 0.15;
