/**
 * From which spacing on two neighbouring samples are no neighbours: what changed in between is no edge.
 */
import { median } from '../numeric/robust.ts';

/** More usual intervals than this, and more than so long (a slow cycle of fragment scans). Judgement. */
const PAUSE_INTERVALS = 5;
const PAUSE_LEAST_S = 3;

/** The longest spacing that still is none [s], from the usual one. */
export function longestSpacing(usual_s: number): number {
  return Math.max(PAUSE_INTERVALS * usual_s, PAUSE_LEAST_S);
}

/** Middle spacing of these times; NaN for fewer than two. */
export function usualSpacing(time_s: ArrayLike<number>): number {
  const count = Math.max(0, time_s.length - 1);
  return median(Float64Array.from({ length: count }, (_, i) => time_s[i + 1]! - time_s[i]!));
}

/** The longest spacing that still is none, of these times. */
export function pauseFrom(time_s: ArrayLike<number>): number {
  return time_s.length < 2 ? PAUSE_LEAST_S : longestSpacing(usualSpacing(time_s));
}
