/**
 * A run that begins at a low level and steps up sharply was most likely diverted or not yet sprayed there. The start then
 * is no part of the spray that is judged. Where the run also ends at that level a method does so every time, and the loss
 * at the end is a doubtful fault. Without such an end (a file cut short, a run stopped early) the step has to be higher,
 * since a peak at the front of the solvent also raises a level.
 */
import { median } from '../core/numeric/robust.ts';
import { endLoss } from '../core/signal/index.ts';

/** The two low levels agree within this factor. Judgement. */
const SAME_LEVEL_LOG = Math.log(3);
/** Without an end to compare with, the start stands below a twentieth of what follows. Judgement. */
const LONE_STEP_LOG = Math.log(20);
/** Read backwards the start may begin this early: at least a tenth of the run follows the step. Judgement. */
const LEAST_AFTER = 0.1;

export interface BareStart {
  /** Index of the first sample after it. */
  past: number;
  /** The run ends at the same low level. */
  ends_alike: boolean;
}

/** `endFirst` is where a loss at the end begins, the length of the series when there is none. */
export function bareStart(
  time_s: readonly number[],
  log: Float64Array,
  sigma: number,
  endFirst: number,
): BareStart | undefined {
  const n = endFirst;
  const backward_s = Float64Array.from({ length: n }, (_, i) => -time_s[n - 1 - i]!);
  const backward = Float64Array.from({ length: n }, (_, i) => log[n - 1 - i]!);
  const start = endLoss(backward_s, backward, sigma, LEAST_AFTER);
  if (!start) return undefined;
  const ends_alike =
    endFirst < log.length && Math.abs(start.inside - median(log.subarray(endFirst))) < SAME_LEVEL_LOG;
  const stands = ends_alike || start.reference - start.inside > LONE_STEP_LOG;
  return stands ? { past: n - start.first, ends_alike } : undefined;
}
