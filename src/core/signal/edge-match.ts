/**
 * What joint falls are made of: which samples of two series share a moment, when two jumps count as the same size, which
 * edges beside a larger one are only its ringing, and which stand alone.
 */
import type { Jumps, Ringing } from './edge-jumps.ts';

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

/** A jump that two series share: its size in both together, and how far it stands out. */
export interface Edge {
  at: number;
  size: number;
  sigma: number;
  sigmas: number;
  unlike: number;
}

export interface Alike {
  /** Sizes differ at most by this factor, or by less than `within` of their sigma. */
  match: number;
  within: number;
}

export function alike(a: number, b: number, sigma: number, { match, within }: Alike): boolean {
  if (Math.sign(a) !== Math.sign(b)) return false;
  const ratio = a / b;
  return (ratio > 1 / match && ratio < match) || Math.abs(a - b) < within * sigma;
}

/** Visits each sample of the first series with the samples [first, past) of the other that share its moment: their intervals meet. */
export function eachMoment(
  one: Jumps,
  other: Jumps,
  visit: (i: number, first: number, past: number) => void,
): void {
  let first = 2;
  for (let i = 2; i < one.size.length - 1; i++) {
    while (first < other.size.length && other.time_s[first]! < one.time_s[i - 1]!) first++;
    let past = first;
    while (past < other.size.length && other.time_s[past - 1]! < one.time_s[i]!) past++;
    visit(i, first, past);
  }
}

/** A jump is undone by one back of at least this share of its size. Judgement. */
const UNDONE_SHARE = 0.5;

/** Edges that are no end of a fall and that none of the others undoes within `longest_s`. */
export function loneJumps(
  edges: readonly Edge[],
  isEnd: (at: number) => boolean,
  time_s: ArrayLike<number>,
  longest_s: number,
): LoneJump[] {
  const undone = (edge: Edge): boolean =>
    edges.some(
      (back) =>
        Math.sign(back.size) !== Math.sign(edge.size) &&
        Math.abs(back.size) >= UNDONE_SHARE * Math.abs(edge.size) &&
        Math.abs(time_s[back.at]! - time_s[edge.at]!) <= longest_s,
    );
  return edges
    .filter((edge) => !isEnd(edge.at) && !undone(edge))
    .map(({ at, size, sigmas, unlike }) => ({ at, size_log: size, sigmas, unlike }));
}

/** Of neighbours the larger; what rings about it is left out too. */
export function withoutRings<E extends { at: number; size: number }>(
  edges: readonly E[],
  ring: Ringing,
): E[] {
  return edges.filter(
    (edge) =>
      !edges.some((near) => {
        const off = Math.abs(near.at - edge.at);
        if (near === edge || off > ring.samples) return false;
        return Math.abs(edge.size) < (off <= 1 ? 1 : ring.share) * Math.abs(near.size);
      }),
  );
}
