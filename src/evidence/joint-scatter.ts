/**
 * Stretches in which two kinds of scans taken in turn both scatter more from scan to scan than they usually do, where
 * neither can be followed by its peaks. Each scan is held against the mean of its two neighbours, so that elution mostly
 * cancels; a steep front of both at once does not.
 */
import { flickerStretches } from '../core/signal/index.ts';
import type { WitnessSeries } from './other-groups.ts';
import type { RunEvent } from './run-reading.ts';
import { causeWords } from './witness/cause-words.ts';
import { percentText, timeText } from './words.ts';

/** Both stretches share at least this time [s]; shorter ones are fronts of elution. */
const LEAST_S = 30;
/** Times the usual scatter in both. At twice a surrogate of such a run shows dozens a day, made by fronts of elution. */
const LEAST_TIMES = 2.8;
/** Variance of a sample less the mean of its neighbours, over that of a sample. */
const NEIGHBOUR_VARIANCE = 1.5;
const BELIEF = 0.55;

export function jointScatterEvents(
  one: WitnessSeries,
  others: readonly WitnessSeries[],
  group: number,
): RunEvent[] {
  const own = stretches(one);
  const events: RunEvent[] = [];
  for (const other of others) {
    for (const theirs of stretches(other)) {
      for (const mine of own) {
        const start_s = Math.max(mine.start_s, theirs.start_s);
        const end_s = Math.min(mine.end_s, theirs.end_s);
        const times = Math.min(mine.times, theirs.times);
        if (end_s - start_s < LEAST_S || times < LEAST_TIMES) continue;
        if (events.some((event) => event.start_s < end_s && start_s < event.end_s)) continue;
        events.push({
          kind: 'flicker',
          group,
          start_s,
          end_s,
          depth: null,
          confidence: BELIEF,
          confidence_basis: `${times.toFixed(1)} times the usual scatter of this run, in the scans of both kinds; the levels alone`,
          causes: causeWords('flicker', end_s - start_s, true),
          common: true,
          sentence: `From ${timeText(start_s)} to ${timeText(end_s)} the levels of the scans taken in turn both scatter from scan to scan, by ${percentText(mine.scatter)}, ${times.toFixed(1)} times as much as usual.`,
        });
      }
    }
  }
  return events;
}

interface Stretch {
  start_s: number;
  end_s: number;
  scatter: number;
  times: number;
}

function stretches({ time_s, log }: WitnessSeries): Stretch[] {
  const n = log.length;
  if (n < 3) return [];
  const off = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    off[i] = (log[i]! - (log[i - 1]! + log[i + 1]!) / 2) / Math.sqrt(NEIGHBOUR_VARIANCE);
  }
  return flickerStretches(time_s, off, new Float64Array(n)).map(({ first, past, scatter, usual }) => ({
    start_s: time_s[first]!,
    end_s: time_s[past - 1]!,
    scatter,
    times: scatter / usual,
  }));
}
