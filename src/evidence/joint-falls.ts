/**
 * Falls that two kinds of scans taken in turn (polarities, windows) share, where neither has background ions:
 * both levels, or the ions of both, jump down in one moment and up again in another. Elution has no such edges, and rarely
 * the same in both.
 * Confidence is judgement.
 */
import {
  type JointFall,
  type JointSeries,
  jointFalls,
  jointPairs,
  type LoneJump,
  leastPair,
  type PairOptions,
} from '../core/signal/index.ts';
import { jointRippleEvents } from './joint-ripples.ts';
import { jointScatterEvents } from './joint-scatter.ts';
import type { WitnessSeries } from './other-groups.ts';
import type { RunEvent, RunEventKind } from './run-reading.ts';
import { causeWords } from './witness/cause-words.ts';
import { HALF } from './witness/common-jump.ts';
import { durationText, percentText, timeText } from './words.ts';

const LONGEST_S = 180;
/**
 * By the levels: 20 % of the level; sigmas of both together and of each. At 5.6 a surrogate of such a run shows two a day.
 * One scan off a jump of the level rings with half of its size.
 */
const BY_LEVEL: Search = {
  find: (one, other) =>
    jointFalls(one, other, {
      least_log: 0.22,
      sigmas: 6.2,
      each: 2,
      longest_s: LONGEST_S,
      match: 1.7,
      within: 0,
      ring: { samples: 1, share: 1 },
    }),
  // A lone fall is an alarm from this size on and where both fall alike: else fronts of elution in both at once do the same.
  step: { least_log: 0.65, unlike: 1.5, sigmas: 6.2 },
  of: 'the levels of the scans taken in turn',
  basis: 'the levels alone',
};
/** A jump of the ions rings with 0.42 of its size, more where the weak ones are lost: what is smaller beside it is no edge. Judgement. */
const RINGS_BELOW = 0.8;
/** By the ions, whose own slopes are taken out: what is left scatters normally (computed: 3 sigma the largest in 900 scans). */
const PAIRS: PairOptions = {
  least_log: 0.19,
  pair: 5.3,
  edge: 2,
  lone: 4.1,
  longest_s: LONGEST_S,
  match: 1.5,
  within: 3,
  ring: { samples: HALF, share: RINGS_BELOW },
};
const BY_IONS: Search = {
  find: (one, other) => jointPairs(one, other, PAIRS),
  step: { least_log: 0.2, unlike: Number.POSITIVE_INFINITY, sigmas: 4.5 },
  of: 'all ions of the scans taken in turn',
  from: 'matched peaks',
  basis: 'their ions beyond their own slopes',
};
interface Search {
  find(one: JointSeries, other: JointSeries): { falls: JointFall[]; lone: LoneJump[] };
  step: { least_log: number; unlike: number; sigmas: number };
  of: string;
  from?: RunEvent['from'];
  basis: string;
}
const SAG_DEEPEST = 0.7;
const SAG_LEAST_S = 10;
const BELIEF = 0.6;
const STEP_ALARM_BELIEF = 0.55;
const STEP_BELIEF = 0.45;
const RISE_BELIEF = 0.35;

/** For a length, the size as a log of a fall that half of the places would show by the ions of both; none where no ions tell. */
export function leastJointFall(
  one: WitnessSeries,
  others: readonly WitnessSeries[],
): ((length_s: number) => number) | undefined {
  const least = others.filter((other) => one.jump && other.jump).map((other) => leastPair(one, other, PAIRS));
  return least.length > 0 ? (length_s) => Math.min(...least.map((sizeFor) => sizeFor(length_s))) : undefined;
}

/** `group` is the number of the first series' group. */
function jointFallEvents(one: WitnessSeries, others: readonly WitnessSeries[], group: number): RunEvent[] {
  const events: RunEvent[] = [];
  const add = (event: RunEvent): void => {
    if (!events.some((known) => overlap(known, event))) events.push(event);
  };
  for (const other of others) {
    const ions = one.jump && other.jump ? [{ by: BY_IONS, first: one, second: other }] : [];
    const levels = { by: BY_LEVEL, first: levelOf(one), second: levelOf(other) };
    const found = [...ions, levels].map(({ by, first, second }) => ({
      by,
      ...by.find(first, second),
    }));
    for (const { by, falls } of found) for (const fall of falls) add(fallEvent(fall, by, one, group));
    // Where ions are followed they alone tell what lasts: fronts of elution move the levels.
    for (const { by, lone } of found.slice(0, 1))
      for (const jump of lone) add(loneEvent(jump, by, one, group));
  }
  return events;
}

function levelOf({ time_s, log }: WitnessSeries): JointSeries {
  return { time_s, log };
}

function fallEvent(
  { first, past, size_log, sigmas }: JointFall,
  by: Search,
  one: WitnessSeries,
  group: number,
): RunEvent {
  const start_s = (one.time_s[first - 1]! + one.time_s[first]!) / 2;
  const end_s = (one.time_s[past - 1]! + one.time_s[past]!) / 2;
  const depth = 1 - Math.exp(-size_log);
  const length_s = end_s - start_s;
  const kind: RunEventKind = depth <= SAG_DEEPEST && length_s > SAG_LEAST_S ? 'sag' : 'dropout';
  return {
    kind,
    group,
    start_s,
    end_s,
    depth,
    confidence: BELIEF,
    confidence_basis: `both edges, ${basis(sigmas, by)}`,
    causes: causeWords(kind, length_s, true),
    common: true,
    ...(by.from ? { from: by.from } : {}),
    sentence: `At ${timeText(start_s)} ${by.of} ${kind === 'sag' ? 'sag' : 'drop'} together for ${durationText(length_s)}, by ${percentText(depth)}, with sharp edges.`,
  };
}

function loneEvent(
  { at, size_log, sigmas, unlike }: LoneJump,
  by: Search,
  one: WitnessSeries,
  group: number,
): RunEvent {
  const start_s = one.time_s[at - 1]!;
  const { step } = by;
  const alarm = -size_log >= step.least_log && unlike <= step.unlike && sigmas >= step.sigmas;
  return {
    kind: 'step',
    group,
    start_s,
    end_s: one.time_s[at]!,
    depth: size_log < 0 ? 1 - Math.exp(size_log) : null,
    confidence: size_log > 0 ? RISE_BELIEF : alarm ? STEP_ALARM_BELIEF : STEP_BELIEF,
    confidence_basis: `one edge, ${basis(sigmas, by)}`,
    causes: causeWords('step', LONGEST_S, true),
    common: true,
    ...(by.from ? { from: by.from } : {}),
    sentence: `At ${timeText(start_s)} ${by.of} ${size_log < 0 ? 'fall' : 'rise'} together by ${percentText(Math.abs(Math.exp(size_log) - 1))} from one scan to the next, and nothing undoes it within three minutes.`,
  };
}

function basis(sigmas: number, by: Search): string {
  return `in the scans of both kinds at the same moment, at least ${sigmas.toFixed(1)} times the jumps around; ${by.basis}`;
}

function isLoss({ kind }: RunEvent): boolean {
  return kind === 'level lost' || kind === 'signal lost at the end';
}

function overlap(a: RunEvent, b: RunEvent): boolean {
  return a.start_s < b.end_s && b.start_s < a.end_s;
}

/** `found` with what the levels of both kinds of scans show together. */
export function jointEvents(
  found: readonly RunEvent[],
  one: WitnessSeries,
  others: readonly WitnessSeries[],
  group: number,
): RunEvent[] {
  const falls = withJointFalls(found, jointFallEvents(one, others, group));
  const lost = falls.filter(isLoss);
  const kept = (event: RunEvent): boolean => !lost.some((loss) => overlap(event, loss));
  const scatter = jointScatterEvents(one, others, group).filter(kept);
  const ripples = jointRippleEvents(one, others, group).filter(kept);
  const both = [...scatter, ...ripples];
  // What one kind, or its gains, show of the same says no more.
  const rest = falls.filter(
    (event) => !both.some((other) => other.kind === event.kind && overlap(event, other)),
  );
  return [...rest, ...both].sort((a, b) => a.start_s - b.start_s);
}

/** `found` with the joint falls in place of what the level alone showed at the time; a loss stays. */
function withJointFalls(found: readonly RunEvent[], joint: readonly RunEvent[]): RunEvent[] {
  const added = joint.filter(
    (fall) =>
      !found.some((event) => overlap(event, fall) && (isLoss(event) || event.confidence >= fall.confidence)),
  );
  return [
    ...found.filter((event) => isLoss(event) || !added.some((fall) => overlap(event, fall))),
    ...added,
  ].sort((a, b) => a.start_s - b.start_s);
}
