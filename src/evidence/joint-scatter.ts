/**
 * Stretches in which two kinds of scans taken in turn both scatter more from scan to scan than they usually do, where
 * neither can be followed by its peaks; where no scans are taken in turn, one kind by the jumps of its ions. Each scan is held against the mean of its two neighbours, so that elution mostly
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
/** Scatter of a jump over that of a scan (computed for scans at even times). */
const JUMP_SCATTER = 1.71;
/** Variance of a sample less the mean of its neighbours, over that of a sample. */
const NEIGHBOUR_VARIANCE = 1.5;
const BELIEF = 0.55;

export function jointScatterEvents(
  one: WitnessSeries,
  others: readonly WitnessSeries[],
  group: number,
): RunEvent[] {
  if (others.length === 0) return one.jump ? aloneEvents(one, group) : [];
  const events: RunEvent[] = [];
  for (const other of others) {
    // Where the ions of both are followed no front of elution is left that could pass for scatter.
    const by_ions = one.jump !== undefined && other.jump !== undefined;
    const own = stretches(one, by_ions);
    for (const theirs of stretches(other, by_ions)) {
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
          confidence_basis: `${times.toFixed(1)} times the usual scatter of this run, in the scans of both kinds; ${by_ions ? 'their ions beyond their own slopes' : 'the levels alone'}`,
          causes: causeWords('flicker', end_s - start_s, true),
          common: true,
          sentence: `From ${timeText(start_s)} to ${timeText(end_s)} ${by_ions ? 'all ions' : 'the levels'} of the scans taken in turn scatter together from scan to scan, by ${percentText(mine.scatter)}, ${times.toFixed(1)} times as much as usual.`,
        });
      }
    }
  }
  return events;
}

/** One kind of scans alone, by the jumps of its ions: elution's fronts are taken out of them, so wide scatter is told, with more asked for. */
function aloneEvents(one: WitnessSeries, group: number): RunEvent[] {
  return stretches(one, true)
    .filter(({ start_s, end_s, times }) => end_s - start_s >= LEAST_S && times >= LEAST_TIMES_ALONE)
    .map(({ start_s, end_s, times, scatter }) => ({
      kind: 'flicker',
      group,
      start_s,
      end_s,
      depth: null,
      confidence: BELIEF,
      confidence_basis: `${times.toFixed(1)} times the usual scatter of this run; the ions beyond their own slopes; no background ions stand here`,
      causes: causeWords('flicker', end_s - start_s, undefined),
      from: 'matched peaks',
      sentence: `From ${timeText(start_s)} to ${timeText(end_s)} all ions scatter together from scan to scan, by ${percentText(scatter)}, ${times.toFixed(1)} times as much as usual.`,
    }));
}

/** Judgement. */
const LEAST_TIMES_ALONE = 3.5;

interface Stretch {
  start_s: number;
  end_s: number;
  scatter: number;
  times: number;
}

function stretches({ time_s, log, jump }: WitnessSeries, by_ions: boolean): Stretch[] {
  const n = log.length;
  if (n < 3) return [];
  const off = new Float64Array(n);
  const error = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    if (by_ions && jump) {
      off[i] = Number.isFinite(jump.value[i]!) ? jump.value[i]! / JUMP_SCATTER : 0;
      error[i] = Number.isFinite(jump.error[i]!) ? jump.error[i]! / JUMP_SCATTER : 0;
    } else off[i] = (log[i]! - (log[i - 1]! + log[i + 1]!) / 2) / Math.sqrt(NEIGHBOUR_VARIANCE);
  }
  return flickerStretches(time_s, off, error).map(({ first, past, scatter, usual }) => ({
    start_s: time_s[first]!,
    end_s: time_s[past - 1]!,
    scatter,
    times: scatter / usual,
  }));
}
