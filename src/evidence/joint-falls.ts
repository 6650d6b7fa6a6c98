/**
 * Falls that two kinds of scans taken in turn (polarities, windows) share, where neither can be followed by its peaks:
 * both levels jump down in one moment and up again in another. Elution has no such edges, and rarely the same in both.
 * Confidence is judgement.
 */
import { jointFalls } from '../core/signal/index.ts';
import { jointScatterEvents } from './joint-scatter.ts';
import type { WitnessSeries } from './other-groups.ts';
import type { RunEvent, RunEventKind } from './run-reading.ts';
import { causeWords } from './witness/cause-words.ts';
import { durationText, percentText, timeText } from './words.ts';

/** 20 % of the level; sigmas of both together and of each. At 5.6 a surrogate of such a run shows two a day. */
const SEARCH = { least_log: 0.22, sigmas: 6.2, each: 2, longest_s: 180 };
const SAG_DEEPEST = 0.7;
const SAG_LEAST_S = 10;
const BELIEF = 0.6;
/** A lone fall is an alarm from this size on and where both fall alike: else fronts of elution in both at once do the same. */
const STEP_ALARM = { least_log: 0.65, unlike: 1.5, belief: 0.55 };
const STEP_BELIEF = 0.45;
const RISE_BELIEF = 0.35;

/** `group` is the number of the first series' group. */
function jointFallEvents(one: WitnessSeries, others: readonly WitnessSeries[], group: number): RunEvent[] {
  const events: RunEvent[] = [];
  const add = (event: RunEvent): void => {
    if (!events.some((known) => known.start_s < event.end_s && event.start_s < known.end_s))
      events.push(event);
  };
  for (const other of others) {
    const { falls, lone } = jointFalls(one, other, SEARCH);
    for (const { first, past, size_log, sigmas } of falls) {
      const start_s = (one.time_s[first - 1]! + one.time_s[first]!) / 2;
      const end_s = (one.time_s[past - 1]! + one.time_s[past]!) / 2;
      const depth = 1 - Math.exp(-size_log);
      const length_s = end_s - start_s;
      const kind: RunEventKind = depth <= SAG_DEEPEST && length_s > SAG_LEAST_S ? 'sag' : 'dropout';
      add({
        kind,
        group,
        start_s,
        end_s,
        depth,
        confidence: BELIEF,
        confidence_basis: `both edges, ${basis(sigmas)}`,
        causes: causeWords(kind, length_s, true),
        common: true,
        sentence: `At ${timeText(start_s)} the levels of the scans taken in turn ${kind === 'sag' ? 'sag' : 'drop'} together for ${durationText(length_s)}, by ${percentText(depth)}, with sharp edges.`,
      });
    }
    for (const { at, size_log, sigmas, unlike } of lone) {
      const start_s = one.time_s[at - 1]!;
      add({
        kind: 'step',
        group,
        start_s,
        end_s: one.time_s[at]!,
        depth: size_log < 0 ? 1 - Math.exp(size_log) : null,
        confidence: size_log > 0 ? RISE_BELIEF : stepBelief(-size_log, unlike),
        confidence_basis: `one edge, ${basis(sigmas)}`,
        causes: causeWords('step', SEARCH.longest_s, true),
        common: true,
        sentence: `At ${timeText(start_s)} the levels of the scans taken in turn ${size_log < 0 ? 'fall' : 'rise'} together by ${percentText(Math.abs(Math.exp(size_log) - 1))} from one scan to the next, and nothing undoes it within three minutes.`,
      });
    }
  }
  return events;
}

function stepBelief(size_log: number, unlike: number): number {
  return size_log >= STEP_ALARM.least_log && unlike <= STEP_ALARM.unlike ? STEP_ALARM.belief : STEP_BELIEF;
}

function basis(sigmas: number): string {
  return `in the scans of both kinds at the same moment, at least ${sigmas.toFixed(1)} times the jumps around; the levels alone`;
}

/** `found` with what the levels of both kinds of scans show together. */
export function jointEvents(
  found: readonly RunEvent[],
  one: WitnessSeries,
  others: readonly WitnessSeries[],
  group: number,
): RunEvent[] {
  const falls = withJointFalls(found, jointFallEvents(one, others, group));
  const lost = falls.filter(
    (event) => event.kind === 'level lost' || event.kind === 'signal lost at the end',
  );
  const scatter = jointScatterEvents(one, others, group).filter(
    (event) => !lost.some((loss) => event.start_s < loss.end_s && loss.start_s < event.end_s),
  );
  return [...falls, ...scatter].sort((a, b) => a.start_s - b.start_s);
}

/** `found` with the joint falls in place of what the level alone showed at the time; a loss stays. */
function withJointFalls(found: readonly RunEvent[], joint: readonly RunEvent[]): RunEvent[] {
  const loss = (event: RunEvent): boolean =>
    event.kind === 'level lost' || event.kind === 'signal lost at the end';
  const overlap = (a: RunEvent, b: RunEvent): boolean => a.start_s < b.end_s && b.start_s < a.end_s;
  const added = joint.filter(
    (fall) =>
      !found.some((event) => overlap(event, fall) && (loss(event) || event.confidence >= fall.confidence)),
  );
  return [
    ...found.filter((event) => loss(event) || !added.some((fall) => overlap(event, fall))),
    ...added,
  ].sort((a, b) => a.start_s - b.start_s);
}
