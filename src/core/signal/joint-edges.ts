/**
 * Sharp falls that two interleaved series share, each with the rise that undoes it, and jumps that nothing undoes: an edge is a jump between two
 * samples beyond the slope around it, it counts only where the other series jumps alike in the same moment. For levels
 * full of elution, whose slopes are steep and differ from series to series, but take several samples.
 * Edges slower than two samples, and falls that one series does not show, go unseen.
 */
import { MAD_TO_SIGMA, median } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

export interface JointFall {
  /** Samples [first, past) of the first series are low. */
  first: number;
  past: number;
  size_log: number;
  /** Of the smaller edge, both series together. */
  sigmas: number;
}

/** A shared jump that none of like size undoes. */
export interface LoneJump {
  /** First sample after it. */
  at: number;
  /** As a log, negative for a fall. */
  size_log: number;
  sigmas: number;
  /** Larger over smaller of the two series' jumps. */
  unlike: number;
}

export interface JointOptions {
  least_log: number;
  /** Both series together, and each by itself. */
  sigmas: number;
  each: number;
  longest_s: number;
}

/** Jumps of the two series, and fall and rise, differ at most by this factor. Judgement. */
const MATCH = 1.7;
/** The yardstick is local: steep elution raises it. */
const YARD_S = 40;
const YARD_SAMPLES = 25;
const YARD_LEAST = 0.8;
const LEAST_SAMPLES = 24;
/** An edge is no part of a front: a level that moves in its sense in so many samples both before and after moves by less there. Judgement. */
const FRONT_SAMPLES = 3;

interface Jumps {
  time_s: ArrayLike<number>;
  /** Jump into sample i from the one before, beyond the middle of the slopes before and after. */
  size: Float64Array;
  sigma: Float64Array;
  /** Twice the smaller change of the samples before and after each jump in its own sense; 0 where either moves the other way. */
  front: Float64Array;
}

interface Edge {
  at: number;
  size: number;
  sigmas: number;
  unlike: number;
}

export function jointFalls(
  one: { time_s: ArrayLike<number>; log: ArrayLike<number> },
  other: { time_s: ArrayLike<number>; log: ArrayLike<number> },
  options: JointOptions,
): { falls: JointFall[]; lone: LoneJump[] } {
  if (one.log.length < LEAST_SAMPLES || other.log.length < LEAST_SAMPLES) return { falls: [], lone: [] };
  const edges = sharedEdges(jumps(one.time_s, one.log), jumps(other.time_s, other.log), options);
  const falls: JointFall[] = [];
  let free = 0;
  for (let i = 0; i < edges.length; i++) {
    const fall = edges[i]!;
    if (fall.size >= 0 || fall.at < free) continue;
    const rise = edges
      .slice(i + 1)
      .find((edge) => edge.size > 0 && edge.at > fall.at && alike(edge.size, -fall.size));
    if (!rise || one.time_s[rise.at]! - one.time_s[fall.at]! > options.longest_s) continue;
    falls.push({
      first: fall.at,
      past: rise.at,
      size_log: (rise.size - fall.size) / 2,
      sigmas: Math.min(fall.sigmas, rise.sigmas),
    });
    free = rise.at;
  }
  const paired = new Set(falls.flatMap(({ first, past }) => [first, past]));
  const lone = edges
    .filter(
      (edge) =>
        !paired.has(edge.at) &&
        !edges.some(
          (back) =>
            Math.sign(back.size) !== Math.sign(edge.size) &&
            Math.abs(one.time_s[back.at]! - one.time_s[edge.at]!) <= options.longest_s,
        ),
    )
    .map(({ at, size, sigmas, unlike }) => ({ at, size_log: size, sigmas, unlike }));
  return { falls, lone };
}

function jumps(time_s: ArrayLike<number>, log: ArrayLike<number>): Jumps {
  const n = log.length;
  const size = new Float64Array(n);
  const slope = (i: number): number => log[i]! - log[i - 1]!;
  for (let i = 2; i < n - 1; i++) size[i] = slope(i) - (slope(i - 1) + slope(i + 1)) / 2;
  const sizes = size.map(Math.abs);
  const whole = MAD_TO_SIGMA * median(sizes.subarray(2, n - 1));
  const around = slowMedian(time_s, sizes, YARD_S / 2, YARD_SAMPLES);
  const front = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    const sense = Math.sign(size[i]!);
    const before = log[i - 1]! - log[Math.max(0, i - 1 - FRONT_SAMPLES)]!;
    const after = log[Math.min(n - 1, i + FRONT_SAMPLES)]! - log[i]!;
    front[i] = 2 * Math.max(0, Math.min(sense * before, sense * after));
  }
  return {
    time_s,
    size,
    front,
    sigma: around.map((value) => Math.max(YARD_LEAST * whole, MAD_TO_SIGMA * value, 1e-9)),
  };
}

/** Edges of the first series that the other has in the same moment: within its own interval of it. */
function sharedEdges(one: Jumps, other: Jumps, options: JointOptions): Edge[] {
  const edges: Edge[] = [];
  let j = 2;
  for (let i = 2; i < one.size.length - 1; i++) {
    const from_s = one.time_s[i - 1]!;
    const to_s = one.time_s[i]!;
    while (j < other.size.length && other.time_s[j]! < from_s) j++;
    let best = -1;
    for (let k = j; k < other.size.length && other.time_s[k - 1]! < to_s; k++) {
      if (best < 0 || Math.abs(other.size[k]!) > Math.abs(other.size[best]!)) best = k;
    }
    if (best < 0) continue;
    const a = one.size[i]!;
    const b = other.size[best]!;
    if (Math.abs(a) < one.front[i]! || Math.abs(b) < other.front[best]!) continue;
    const za = Math.abs(a) / one.sigma[i]!;
    const zb = Math.abs(b) / other.sigma[best]!;
    if (!alike(a, b) || Math.min(za, zb) < options.each) continue;
    const sigmas = Math.hypot(za, zb) / Math.SQRT2;
    const size = (a + b) / 2;
    if (sigmas < options.sigmas || Math.abs(size) < options.least_log) continue;
    edges.push({ at: i, size, sigmas, unlike: Math.max(a / b, b / a) });
  }
  return strongest(edges);
}

function alike(a: number, b: number): boolean {
  const ratio = a / b;
  return ratio > 1 / MATCH && ratio < MATCH;
}

/** A jump rings in its neighbours with the other sign and half the size: of three neighbours the largest. */
function strongest(edges: readonly Edge[]): Edge[] {
  return edges.filter(
    (edge) =>
      !edges.some(
        (near) =>
          near !== edge && Math.abs(near.at - edge.at) <= 1 && Math.abs(near.size) > Math.abs(edge.size),
      ),
  );
}
