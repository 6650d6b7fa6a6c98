/**
 * A level that falls sharply by four fifths or more and stays down for long, wherever in the run: a cliff. One that lasts
 * to the end and stands in the last half of the run is told as a loss at the end; what comes back within minutes as a
 * dropout or a sag.
 */

import { median } from '../core/numeric/robust.ts';
import { flankLevel } from '../core/signal/flank.ts';
import { pauseFrom } from '../core/signal/index.ts';

const CLIFF_LOG = Math.log(5);
/** Fall within two samples. */
const EDGE_LOG = Math.log(3);
const LEAST_S = 60;
const LEAST_SCANS = 20;
const NEIGHBOURHOOD_S = 60;
/** It counts as back when the level has regained this share of the fall, in logs. */
const BACK_SHARE = 0.75;

export interface LevelLoss {
  first: number;
  past: number;
  reference: number;
  inside: number;
}

export function levelLoss(
  time_s: readonly number[],
  log: Float64Array,
  sigma: number,
  from: number,
  to: number,
): LevelLoss | undefined {
  const n = to;
  const none = new Uint8Array(log.length);
  const pause_s = pauseFrom(time_s);
  for (let i = Math.max(2, from + 2); i + LEAST_SCANS < n; i++) {
    const before = Math.max(log[i - 1]!, log[i - 2]!);
    if (before - log[i]! < EDGE_LOG) continue;
    // What sank while no scans were taken did not do it within two.
    if (time_s[i]! - time_s[i - 2]! > 2 * pause_s) continue;
    const reference = flankLevel(time_s, log, none, i, -1, { span_s: NEIGHBOURHOOD_S, sigma });
    if (!(reference - log[i]! >= CLIFF_LOG)) continue;
    let past = i;
    const back = reference - (1 - BACK_SHARE) * (reference - log[i]!);
    while (past < n && log[past]! < back) past++;
    if (past - i < LEAST_SCANS || time_s[past - 1]! - time_s[i]! < LEAST_S) continue;
    const inside = median(log.subarray(i, i + LEAST_SCANS));
    if (reference - inside >= CLIFF_LOG) return { first: i, past, reference, inside };
  }
  return undefined;
}
