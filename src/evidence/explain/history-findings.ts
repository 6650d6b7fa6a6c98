/**
 * What the bench remembers of an emitter: how long it has worked, and whether the same minute was bad in its other runs.
 * The bench knows only the runs that were read; an emitter that worked elsewhere is older than this says.
 */
import { recurringEvents } from '../queue/recurring.ts';
import { runSummary } from '../queue/run-summary.ts';
import { durationText, timeText } from '../words.ts';
import type { RunContext } from './context.ts';
import { type Finding, finding } from './finding.ts';
import { decidingEvents } from './main-group.ts';

const FROM = 'bench';
/** Fresh: the first day and the first runs. Old: weeks or hundreds of injections (common practice: 1 to 4 weeks, 50 to 500). */
const FRESH_RUNS = 5;
const OLD_RUNS = 300;
const DAY_MS = 86_400_000;
const OLD_DAYS = 21;
/** The bench's memory may be shorter than the emitter's life. */
const FRESH_BELIEF = 0.5;
const BELIEF = 0.7;
const RECURS_RUNS = 4;
const SAME_MINUTE_S = 30;

export function historyFindings(context: RunContext): Finding[] {
  const { older = [] } = context;
  if (older.length === 0) return [];
  return [age(context), minute(context)].filter((one) => one !== undefined);
}

function age({ older = [], began }: RunContext): Finding {
  const runs = older.length + 1;
  const times = [...older.map((run) => run.began), began ?? null].flatMap((when) => {
    const ms = Date.parse(when ?? '');
    return Number.isFinite(ms) ? [ms] : [];
  });
  const ms = times.length > 1 ? Math.max(...times) - Math.min(...times) : 0;
  const sprayed_s = older.reduce((sum, { summary }) => sum + summary.end_s - summary.start_s, 0);
  const outcome =
    runs >= OLD_RUNS || ms >= OLD_DAYS * DAY_MS
      ? 'old'
      : runs <= FRESH_RUNS && ms < DAY_MS
        ? 'fresh'
        : 'middle';
  return finding(
    'age',
    outcome,
    outcome === 'fresh' ? FRESH_BELIEF : BELIEF,
    FROM,
    `bench: run ${runs} of this emitter, ${durationText(sprayed_s)} sprayed before it${ms > 0 ? `, over ${(ms / DAY_MS).toFixed(1)} days` : ''}.`,
  );
}

/** Answers 'when' in place of the run alone, since several runs were laid over each other. */
function minute({ reading, older = [] }: RunContext): Finding | undefined {
  const runs = [...older.map(({ summary }) => summary), runSummary(reading)];
  const own = decidingEvents(reading);
  if (runs.length < RECURS_RUNS || own.length === 0) return undefined;
  const { recurring } = recurringEvents(runs);
  const same = recurring.find(
    (time) =>
      time.files.includes(runs.length - 1) &&
      own.some(
        (event) => event.start_s - SAME_MINUTE_S < time.time_s && time.time_s < event.end_s + SAME_MINUTE_S,
      ),
  );
  if (same === undefined) return undefined;
  return finding(
    'when',
    'fixed',
    BELIEF,
    FROM,
    `bench: ${same.files.length} of ${runs.length} runs have an event near ${timeText(same.time_s)}.`,
  );
}
