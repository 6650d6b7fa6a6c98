/**
 * A level that collapses and does not come back before the series ends. The collapse has to be sharp and deep, since a
 * gradient's end and a wash also lower the level, by degrees.
 */
import { median, quantile } from '../numeric/robust.ts';
import { flankLevel } from './flank.ts';
import { pauseFrom } from './pause.ts';
import { slowMedian } from './running-quantile.ts';

/** ln 5: four fifths lost. A wash or the end of a gradient often halves the level. Judgement. */
const COLLAPSE_LOG = Math.log(5);
/** The edge: at least a three-fold fall within two samples. Judgement. */
const EDGE_LOG = Math.log(3);
/** A loss before the middle (in time) of a series is not 'at the end', unless the caller says otherwise. Judgement. */
const EARLIEST_SHARE = 0.5;
const NEIGHBOURHOOD_S = 60;

export interface EndLoss {
  first: number;
  reference: number;
  inside: number;
}

export function endLoss(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  sigma: number,
  earliest_share = EARLIEST_SHARE,
): EndLoss | undefined {
  const n = log_level.length;
  const none = new Uint8Array(n);
  let tail = Number.NEGATIVE_INFINITY;
  let found: EndLoss | undefined;
  const pause_s = pauseFrom(time_s);
  const earliest_s = n > 0 ? time_s[0]! + earliest_share * (time_s[n - 1]! - time_s[0]!) : 0;
  for (let i = n - 1; i >= 2 && time_s[i]! > earliest_s; i--) {
    const level = log_level[i]!;
    tail = Math.max(tail, level);
    const before = Math.max(log_level[i - 1]!, log_level[i - 2]!);
    if (before - level < EDGE_LOG || before - tail < COLLAPSE_LOG) continue;
    // What sank while no scans were taken did not do it within two.
    if (time_s[i]! - time_s[i - 2]! > 2 * pause_s) continue;
    const reference = flankLevel(time_s, log_level, none, i, -1, { span_s: NEIGHBOURHOOD_S, sigma });
    if (!(reference - tail >= Math.max(COLLAPSE_LOG, 4 * sigma))) continue;
    const inside = median(Array.from({ length: n - i }, (_, k) => log_level[i + k]!));
    found = { first: i, reference, inside };
  }
  return found;
}

/** ln 20. Judgement. */
const FADE_LOG = Math.log(20);
const FADE_HALF_S = 10;
const FADE_SCANS = 5;
const FADE_LEAST_S = 60;
const FADE_LEAST_SCANS = 20;
const EMPTY_SHARE = 0.1;
/** What the level was: so much of the run lies below it, so a run may be dead for nearly three quarters. */
const USUAL_SHARE = 0.75;

/** The same without an edge: a level that sinks, however slowly, to a twentieth of what it was and stays there to the end. */
export function endFade(time_s: ArrayLike<number>, log_level: ArrayLike<number>): EndLoss | undefined {
  const n = log_level.length;
  if (n < 2 * FADE_LEAST_SCANS) return undefined;
  const slow = slowMedian(time_s, log_level, FADE_HALF_S, FADE_SCANS);
  const reference = quantile(slow, USUAL_SHARE);
  let first = n;
  while (first > 0 && slow[first - 1]! <= reference - FADE_LOG) first--;
  if (first === 0 || n - first < FADE_LEAST_SCANS) return undefined;
  if (time_s[n - 1]! - time_s[first]! < FADE_LEAST_S) return undefined;
  const inside = median(slow.subarray(first));
  // A gradient's end sinks to what its empty start was; a lost spray sinks far below that.
  if (quantile(slow.subarray(0, first), EMPTY_SHARE) - inside < FADE_LOG) return undefined;
  return { first, reference, inside };
}
