/**
 * Boxes: a level steps down, stays down and steps back up. An edge is a short step that stands out from all short steps
 * of the same series, so that a run full of elution raises its own threshold. A fall and a rise make a box when the
 * lower envelope beside each edge moves by the same amount as the edge itself: elution is slower than that, and its
 * valleys are entered and left by degrees.
 * A step of composition or a valve looks the same: the level alone cannot tell.
 */
import { MAD_TO_SIGMA, median, roughQuantile } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

export interface BoxOptions {
  /** Scatter from scan to scan, as a fraction. */
  sigma: number;
  /** Shallowest fall, as a log. */
  least_log: number;
  shortest_s: number;
  longest_s: number;
  /** Longest stretch compared on each side of an edge; shorter boxes compare half of their own length. */
  neighbourhood_s: number;
}

export interface Box {
  first: number;
  past: number;
  reference: number;
  inside: number;
}

export interface BoxSearch {
  boxes: Box[];
  /** Shallowest step this series could show, as a log: its own threshold. */
  floor_log: number;
}

/** Steps are taken over these times on each side [s], at least two samples: the longer ones see below more scatter. */
const STEPS_S = [3, 9] as const;
/** An edge must stand out from the steps around it (within half of QUIET_S) by this many of their sigma. Judgement. */
const EDGE_SIGMAS = 4;
const QUIET_S = 300;
/** Strongest edges of each kind that are looked at: bounds the work on a series that jumps all the time. */
const MOST_EDGES = 300;
/** The edge holds at least this share of the fall of the envelope, or it was entered by degrees. Judgement. */
const EDGE_SHARE = 0.6;
/** Fall and rise, and edge and envelope, differ at most by this factor. Judgement. */
const MATCH = 1.8;
/** Shortest stretch compared beside an edge. */
const LEAST_BESIDE_S = 15;
const LEAST_BESIDE = 5;
/** Lower envelope: a quartile, put back to the middle of normal scatter (see flank.ts). */
const ENVELOPE_SHARE = 0.25;
const QUARTILE_SIGMA = 0.6745;
/** What the series shows anyway: this quantile of all samples within WIDE_S on both sides. Valleys come down to it. */
const USUAL_SHARE = 0.1;
const USUAL_DEPTH = 0.4;
const WIDE_S = 150;
/** Below this many samples there are no neighbours to compare with. */
const LEAST_SAMPLES = 4 * LEAST_BESIDE;

interface Edge {
  at: number;
  size: number;
}

export function boxes(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  options: BoxOptions,
): BoxSearch {
  const n = log_level.length;
  const interval_s = n > 1 ? (time_s[n - 1]! - time_s[0]!) / (n - 1) : 0;
  if (n < LEAST_SAMPLES || !(interval_s > 0)) return { boxes: [], floor_log: Number.POSITIVE_INFINITY };
  const found: Box[] = [];
  let floor_log = Number.POSITIVE_INFINITY;
  for (const step_s of STEPS_S) {
    const side = Math.max(2, Math.round(step_s / interval_s));
    const steps = shortSteps(log_level, side);
    const limits = stepLimits(time_s, steps, side, options.least_log);
    floor_log = Math.min(floor_log, median(limits));
    const pairs = paired(
      time_s,
      log_level,
      edges(steps, limits, side, -1),
      edges(steps, limits, side, 1),
      options,
    );
    for (const box of pairs) {
      if (!found.some((other) => other.first < box.past && box.first < other.past)) found.push(box);
    }
  }
  return { boxes: found.sort((a, b) => a.first - b.first), floor_log };
}

function paired(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  falls: readonly Edge[],
  rises: readonly Edge[],
  options: BoxOptions,
): Box[] {
  const found: Box[] = [];
  let free = 0;
  for (const fall of falls) {
    if (fall.at < free) continue;
    for (const rise of rises) {
      if (rise.at <= fall.at) continue;
      const length_s = time_s[rise.at - 1]! - time_s[fall.at]!;
      if (length_s < options.shortest_s) continue;
      if (length_s > options.longest_s) break;
      if (!matching(fall.size, rise.size)) continue;
      const box = judged(time_s, log_level, fall, rise, options);
      if (!box) continue;
      found.push(box);
      free = rise.at;
      break;
    }
  }
  return found;
}

/** Least size of an edge at each step. */
function stepLimits(
  time_s: ArrayLike<number>,
  steps: Float64Array,
  side: number,
  least_log: number,
): Float64Array {
  const times = Float64Array.from({ length: steps.length }, (_, i) => time_s[i + side]!);
  const sizes = steps.map((step) => Math.abs(step));
  const usual = slowMedian(times, sizes, QUIET_S / 2, LEAST_SAMPLES);
  return usual.map((size) => Math.max(least_log, EDGE_SIGMAS * MAD_TO_SIGMA * size));
}

/** Mean of the `side` samples from i on, less that of the `side` before i; entry 0 belongs to sample `side`. */
function shortSteps(log_level: ArrayLike<number>, side: number): Float64Array {
  const n = log_level.length;
  const steps = new Float64Array(Math.max(0, n - 2 * side + 1));
  let sum = 0;
  for (let k = 0; k < side; k++) sum += log_level[side + k]! - log_level[k]!;
  for (let i = 0; i < steps.length; i++) {
    steps[i] = sum / side;
    if (i + 1 < steps.length) sum += log_level[i]! - 2 * log_level[i + side]! + log_level[i + 2 * side]!;
  }
  return steps;
}

/** Extrema beyond their limit, each the largest within one side, the strongest MOST_EDGES of them in order. */
function edges(steps: Float64Array, limits: Float64Array, side: number, sign: 1 | -1): Edge[] {
  const found: Edge[] = [];
  for (let i = 0; i < steps.length; i++) {
    const size = sign * steps[i]!;
    if (size < limits[i]!) continue;
    let largest = true;
    for (let k = Math.max(0, i - side + 1); k < Math.min(steps.length, i + side) && largest; k++) {
      const other = sign * steps[k]!;
      largest = other < size || (other === size && k >= i);
    }
    if (largest) found.push({ at: i + side, size });
  }
  if (found.length <= MOST_EDGES) return found;
  return found
    .sort((a, b) => b.size - a.size)
    .slice(0, MOST_EDGES)
    .sort((a, b) => a.at - b.at);
}

function judged(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  fall: Edge,
  rise: Edge,
  options: BoxOptions,
): Box | undefined {
  const length_s = time_s[rise.at - 1]! - time_s[fall.at]!;
  const span_s = Math.max(LEAST_BESIDE_S, Math.min(options.neighbourhood_s, length_s / 2));
  const envelope = (from: number, step: 1 | -1, stop: number): number => {
    const values: number[] = [];
    for (let i = from; i !== stop && Math.abs(time_s[i]! - time_s[from]!) <= span_s; i += step) {
      values.push(log_level[i]!);
    }
    if (values.length < LEAST_BESIDE) return Number.NaN;
    return roughQuantile(values, ENVELOPE_SHARE) + QUARTILE_SIGMA * options.sigma;
  };
  const left = envelope(fall.at - 1, -1, -1);
  const right = envelope(rise.at, 1, log_level.length);
  const entered = envelope(fall.at, 1, rise.at);
  const leaving = envelope(rise.at - 1, -1, fall.at - 1);
  const down = left - entered;
  const up = right - leaving;
  if (!(down >= options.least_log && up >= options.least_log && matching(down, up))) return undefined;
  if (fall.size < EDGE_SHARE * down || rise.size < EDGE_SHARE * up) return undefined;
  if (!matching(fall.size, down) || !matching(rise.size, up)) return undefined;

  const within = Array.from({ length: rise.at - fall.at }, (_, k) => log_level[fall.at + k]!);
  const inside = roughQuantile(within, ENVELOPE_SHARE) + QUARTILE_SIGMA * options.sigma;
  const reference = (left + right) / 2;
  const depth = (down + up) / 2;
  // All of it has to stay down: more than half of the samples in the lower half of the fall.
  if (roughQuantile(within, 0.5) > Math.min(left, right) - depth / 2) return undefined;
  if (inside > Math.min(left, right) - depth / 2) return undefined;
  const around: number[] = [];
  for (let i = fall.at - 1; i >= 0 && time_s[fall.at]! - time_s[i]! <= WIDE_S; i--)
    around.push(log_level[i]!);
  for (let i = rise.at; i < log_level.length && time_s[i]! - time_s[rise.at - 1]! <= WIDE_S; i++) {
    around.push(log_level[i]!);
  }
  if (inside > roughQuantile(around, USUAL_SHARE) - USUAL_DEPTH * depth) return undefined;
  return { first: fall.at, past: rise.at, reference, inside: reference - depth };
}

function matching(a: number, b: number): boolean {
  return a < MATCH * b && b < MATCH * a;
}
