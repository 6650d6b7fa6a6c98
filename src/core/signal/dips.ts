/**
 * Deep falls of a log level that come back: candidates lie far below a running median; what counts is the fall below
 * the lower envelope on BOTH sides, with a sharp edge on both, so that a flank or a valley of elution is not a fall.
 * Breaks down where peaks follow each other closer than the neighbourhood for its whole length: there a deep sharp
 * valley passes for a dip. The thresholds are judgement, each named below.
 */
import { median } from '../numeric/robust.ts';
import { flankLevel } from './flank.ts';
import { slowMedian } from './running-quantile.ts';

/** Courses [s] the candidates are measured against: dips up to half of the longer one are seen. */
const COURSES_S = [60, 300] as const;
/** Neighbourhood on each side [s]: some widths of a nanoLC peak (5–30 s). */
export const NEIGHBOURHOOD_S = 60;
/** Least samples in a course window. */
const COURSE_LEAST = 21;
/** Falls smaller than this many sigma are scatter. */
const FALL_SIGMAS = 4;
/** ln 2: half of the level lost. */
const HALF_LOST = Math.LN2;
/**
 * A fall by 90 % to a level the series hardly shows elsewhere within WIDE_S counts even with slow edges: elution does
 * not empty the background.
 */
const EMPTY_LOG = Math.log(10);
const EMPTY_SHARE = 0.02;
const WIDE_S = 300;
/** An edge is sharp when the middle half of the fall takes two samples, or this time [s], at most. */
const EDGE_S = 3;
const EDGE_SHARE = 0.25;

/** Samples next to a dip on each side that tell how deep it is. */
const BESIDE = 3;

export interface Dip {
  /** Samples [first, past). */
  first: number;
  past: number;
  /** Log level beside and inside; their difference is the depth. */
  reference: number;
  inside: number;
}

/** Dips in time order, not overlapping. `local_sigma` is the scatter from scan to scan around each sample. */
export function dips(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  local_sigma: ArrayLike<number>,
): Dip[] {
  const found: Dip[] = [];
  for (const course_s of COURSES_S) {
    const course = slowMedian(time_s, log_level, course_s / 2, COURSE_LEAST);
    const low = new Uint8Array(log_level.length);
    for (let i = 0; i < low.length; i++) {
      if (log_level[i]! < course[i]! - threshold(local_sigma[i]!)) low[i] = 1;
    }
    for (let first = 0; first < low.length; first++) {
      if (low[first] === 0) continue;
      let past = first + 1;
      while (past < low.length && low[past] === 1) past++;
      const dip = judged(time_s, log_level, local_sigma, low, first, past);
      if (dip && !found.some((other) => other.first < dip.past && dip.first < other.past)) found.push(dip);
      first = past;
    }
  }
  return found.sort((a, b) => a.first - b.first);
}

function threshold(sigma: number): number {
  return Math.max(HALF_LOST, FALL_SIGMAS * sigma);
}

function judged(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  local_sigma: ArrayLike<number>,
  low: Uint8Array,
  candidate: number,
  candidatePast: number,
): Dip | undefined {
  const sigma = Math.max(local_sigma[candidate]!, local_sigma[candidatePast - 1]!);
  const options = { span_s: NEIGHBOURHOOD_S, sigma };
  const left = flankLevel(time_s, log_level, low, candidate, -1, options);
  const right = flankLevel(time_s, log_level, low, candidatePast - 1, 1, options);
  const reference = Math.min(left, right);
  if (Number.isNaN(reference)) return undefined;
  let inside = middle(log_level, candidate, candidatePast);
  if (!(reference - inside >= threshold(sigma))) return undefined;

  // Extent: all samples joined to the candidate that lie below half of the fall.
  const half = (reference + inside) / 2;
  let first = candidate;
  let past = candidatePast;
  while (first < past && log_level[first]! >= half) first++;
  while (past > first && log_level[past - 1]! >= half) past--;
  while (first > 0 && log_level[first - 1]! < half) first--;
  while (past < log_level.length && log_level[past]! < half) past++;
  if (first === 0 || past === log_level.length || first === past) return undefined;
  inside = middle(log_level, first, past);
  const depth = reference - inside;
  if (depth < threshold(sigma)) return undefined;
  const upper = reference - EDGE_SHARE * depth;
  const lower = reference - (1 - EDGE_SHARE) * depth;
  const sharp =
    sharpEdge(time_s, log_level, first, past, -1, upper, lower) &&
    sharpEdge(time_s, log_level, past - 1, first - 1, 1, upper, lower);
  if (!sharp && !(depth >= EMPTY_LOG && unusual(time_s, log_level, first, past, lower))) return undefined;
  return { first, past, reference: Math.max(reference, nextTo(log_level, first, past)), inside };
}

/** Level at the dip's place had it not been: a dip on an elution peak loses more than the envelope shows. */
function nextTo(log_level: ArrayLike<number>, first: number, past: number): number {
  const left = middle(log_level, Math.max(0, first - BESIDE), first);
  const right = middle(log_level, past, Math.min(log_level.length, past + BESIDE));
  return (left + right) / 2;
}

function middle(log_level: ArrayLike<number>, first: number, past: number): number {
  return median(Array.from({ length: past - first }, (_, k) => log_level[first + k]!));
}

/** Does the level pass from `lower` (inside, before `stop`) to `upper` (outside) within two samples or EDGE_S? */
function sharpEdge(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  edge: number,
  stop: number,
  outward: 1 | -1,
  upper: number,
  lower: number,
): boolean {
  let inner = edge;
  while (inner !== stop && log_level[inner]! > lower) inner -= outward;
  if (inner === stop) return false;
  for (let i = inner + outward, k = 1; i >= 0 && i < log_level.length; i += outward, k++) {
    if (k > 2 && Math.abs(time_s[i]! - time_s[inner]!) > EDGE_S) return false;
    if (log_level[i]! >= upper) return true;
  }
  return false;
}

/** Is a level below `lower` rare within WIDE_S, the samples [first, past) left out? */
function unusual(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  first: number,
  past: number,
  lower: number,
): boolean {
  let below = 0;
  let count = 0;
  const look = (i: number): void => {
    count++;
    if (log_level[i]! < lower) below++;
  };
  for (let i = first - 1; i >= 0 && time_s[first]! - time_s[i]! <= WIDE_S; i--) look(i);
  for (let i = past; i < log_level.length && time_s[i]! - time_s[past - 1]! <= WIDE_S; i++) look(i);
  return count > 0 && below <= EMPTY_SHARE * count;
}
