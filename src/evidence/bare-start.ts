/**
 * A run that begins and ends at one low level, with a sharp step up and down, was most likely diverted or not yet
 * sprayed there: a method does that every time. The start then is no part of the spray that is judged, and the loss at
 * the end is a doubtful fault.
 */
import { median } from '../core/numeric/robust.ts';
import { endLoss } from '../core/signal/index.ts';

/** The two low levels agree within this factor. Judgement. */
const SAME_LEVEL_LOG = Math.log(3);

/** Index of the first sample after the bare start; undefined when there is none. */
export function bareStart(
  time_s: readonly number[],
  log: Float64Array,
  sigma: number,
  endFirst: number,
): number | undefined {
  const n = endFirst;
  const backward_s = Float64Array.from({ length: n }, (_, i) => -time_s[n - 1 - i]!);
  const backward = Float64Array.from({ length: n }, (_, i) => log[n - 1 - i]!);
  const start = endLoss(backward_s, backward, sigma);
  if (!start) return undefined;
  const end = median(log.subarray(endFirst));
  return Math.abs(start.inside - end) < SAME_LEVEL_LOG ? n - start.first : undefined;
}
