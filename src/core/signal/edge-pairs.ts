/**
 * A fall and the rise that undoes it, found in the steps from sample to sample: each edge stands out from all steps of
 * its kind in the series, both have the same size. For series that have no level of their own, such as the gains of
 * matched peaks, whose sum wanders. Edges slower than three samples go unseen, and a fall without a rise is no pair.
 */
import { MAD_TO_SIGMA, median } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

export interface EdgePairOptions {
  /** Least size of an edge, as a log. */
  least_log: number;
  /** Size of each edge in sigmas of the sums of as many steps. */
  sigmas: number;
  longest_s: number;
}

export interface EdgePair {
  /** Samples [first, past) are low. */
  first: number;
  past: number;
  size_log: number;
  /** Of the smaller edge. */
  sigmas: number;
}

export interface EdgePairSearch {
  pairs: EdgePair[];
  /** Smallest edge told when it takes one and two steps. */
  limits: { steps: number; size_log: number }[];
}

const WIDTHS = [1, 2, 3] as const;
/** Steps lose their local middle over this time. */
const COURSE_S = 40;
const COURSE_SAMPLES = 21;
/** The yardstick is local within this time, and never below this share of the whole series' own. */
const YARD_S = 300;
const YARD_SAMPLES = 121;
const YARD_LEAST = 0.8;
/** Fall and rise differ at most by this factor. Judgement: a run's level changes by that much in a minute. */
const MATCH = 1.6;

interface Edge {
  /** First sample after the edge. */
  at: number;
  width: number;
  size: number;
  sigmas: number;
}

/** `step[i]` leads from sample i - 1 to sample i; NaN counts as no step. */
export function edgePairs(
  time_s: ArrayLike<number>,
  step: ArrayLike<number>,
  options: EdgePairOptions,
): EdgePairSearch {
  const n = step.length;
  if (n < COURSE_SAMPLES) return { pairs: [], limits: [] };
  const filled = Float64Array.from({ length: n }, (_, i) => (Number.isNaN(step[i]!) ? 0 : step[i]!));
  const usual = slowMedian(time_s, filled, COURSE_S / 2, COURSE_SAMPLES);
  const bare = filled.map((value, i) => value - usual[i]!);
  const limits: EdgePairSearch['limits'] = [];
  const edges: Edge[] = [];
  // The same memory for all widths; the first two series are no longer asked.
  const times = Float64Array.from({ length: n - 1 }, (_, i) => time_s[i + 1]!);
  const room = { sums: new Float64Array(n), sizes: filled, local: usual };
  for (const width of WIDTHS) {
    const sums = room.sums.subarray(0, n - width);
    const sizes = room.sizes.subarray(0, n - width);
    for (let i = 0; i < sums.length; i++) {
      let sum = 0;
      for (let k = 0; k < width; k++) sum += bare[i + 1 + k]!;
      sums[i] = sum;
      sizes[i] = Math.abs(sum);
    }
    const whole = MAD_TO_SIGMA * median(sizes);
    const local = slowMedian(
      times.subarray(0, n - width),
      sizes,
      YARD_S / 2,
      YARD_SAMPLES,
      room.local.subarray(0, n - width),
    );
    limits.push({ steps: width, size_log: Math.max(options.least_log, options.sigmas * whole) });
    for (let i = 0; i < sums.length; i++) {
      const yard = Math.max(YARD_LEAST * whole, MAD_TO_SIGMA * local[i]!);
      const sigmas = sizes[i]! / yard;
      if (sigmas >= options.sigmas && sizes[i]! >= options.least_log) {
        edges.push({ at: i + width, width, size: sums[i]!, sigmas });
      }
    }
  }
  return { pairs: paired(time_s, strongest(edges), options.longest_s), limits };
}

/** Of edges that overlap with the same sign the one with most sigmas. */
function strongest(edges: Edge[]): Edge[] {
  edges.sort((a, b) => b.sigmas - a.sigmas);
  const kept: Edge[] = [];
  for (const edge of edges) {
    const taken = kept.some(
      (other) =>
        Math.sign(other.size) === Math.sign(edge.size) &&
        other.at - other.width < edge.at &&
        edge.at - edge.width < other.at,
    );
    if (!taken) kept.push(edge);
  }
  return kept.sort((a, b) => a.at - b.at);
}

function paired(time_s: ArrayLike<number>, edges: readonly Edge[], longest_s: number): EdgePair[] {
  const pairs: EdgePair[] = [];
  let free = 0;
  for (let i = 0; i < edges.length; i++) {
    const fall = edges[i]!;
    if (fall.size >= 0 || fall.at < free) continue;
    for (let k = i + 1; k < edges.length; k++) {
      const rise = edges[k]!;
      if (time_s[rise.at]! - time_s[fall.at]! > longest_s) break;
      const ratio = -rise.size / fall.size;
      if (rise.size < 0 || rise.at <= fall.at || ratio > MATCH || ratio < 1 / MATCH) continue;
      const past = Math.max(fall.at + 1, rise.at);
      pairs.push({
        first: fall.at,
        past,
        size_log: (rise.size - fall.size) / 2,
        sigmas: Math.min(fall.sigmas, rise.sigmas),
      });
      free = past;
      break;
    }
  }
  return pairs;
}
