/**
 * Scans of another polarity, window or analyser taken in turn as a witness: a spray that fails takes all of them along,
 * chromatography mostly moves the ions of one. It is no proof: a window's level may be all background, and the two
 * polarities do not always fail together.
 */
import { median, quantile } from '../core/numeric/robust.ts';
import type { RunEvent } from './run-reading.ts';
import { firstPast } from './within-times.ts';
import type { GroupJumps } from './witness/group-jumps.ts';

export interface WitnessSeries {
  time_s: readonly number[];
  log: ArrayLike<number>;
  sigma: number;
  /** What the ions of each scan jump by together since the one before, where they could be followed; NaN for none. */
  jump?: GroupJumps;
}

/** Least scans of the witness inside the event and beside it, on each side. */
const LEAST_INSIDE = 3;
const LEAST_BESIDE = 4;
/** Time beside the event that is compared [s]. */
const BESIDE_S = 30;
/** Share of the fall (in logs) the witness has to show to agree, and below which it denies. Judgement. */
const AGREES = 0.4;
const DENIES = 0.15;
const AGREED = 0.15;
const DENIED = 0.25;

/** The event with its confidence moved by what the other groups show at the time; itself where they are silent. */
export function witnessed(event: RunEvent, others: readonly WitnessSeries[]): RunEvent {
  if (event.depth === null || event.depth >= 1) return event;
  const depth_log = -Math.log(1 - event.depth);
  let agree = 0;
  let deny = 0;
  for (const other of others) {
    const fall = fallOf(other, event.start_s, event.end_s);
    if (Number.isNaN(fall)) continue;
    if (fall >= AGREES * depth_log && fall > 2 * other.sigma) agree++;
    else if (fall < DENIES * depth_log) deny++;
  }
  if (agree === deny) return event;
  const change = agree > deny ? AGREED : -DENIED;
  const words =
    agree > deny
      ? 'the scans taken in turn fall too'
      : 'the scans taken in turn keep their level, as with elution';
  return {
    ...event,
    confidence: Math.round(100 * Math.min(0.95, Math.max(0.05, event.confidence + change))) / 100,
    confidence_basis: `${event.confidence_basis}; ${words}`,
  };
}

/** Log of the fall below the lower envelope of both sides; NaN where the witness has too few scans. */
function fallOf(series: WitnessSeries, start_s: number, end_s: number): number {
  const before: number[] = [];
  const within: number[] = [];
  const after: number[] = [];
  const from_s = start_s - BESIDE_S;
  for (let i = firstPast(series.time_s, (time) => time >= from_s); i < series.time_s.length; i++) {
    const time = series.time_s[i]!;
    if (time > end_s + BESIDE_S) break;
    (time < start_s ? before : time > end_s ? after : within).push(series.log[i]!);
  }
  if (within.length < LEAST_INSIDE || before.length < LEAST_BESIDE || after.length < LEAST_BESIDE) {
    return Number.NaN;
  }
  return Math.min(quantile(before, 0.25), quantile(after, 0.25)) - median(within);
}
