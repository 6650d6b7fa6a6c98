/**
 * Whether a run can be kept, in words. Thresholds are common practice or judgement: no source gives limits for what a
 * run file shows.
 */
import type { FoundEvents } from './run-events.ts';
import type { RunEvent, RunGroup, RunReading } from './run-reading.ts';
import { SCATTER_STOP, type Trust } from './run-trust.ts';
import { durationText, percentText, timeMeant } from './words.ts';

/** Fewer scans or less time show no slow course to compare with. Judgement. */
export const LEAST_SCANS = 20;
export const LEAST_SPAN_S = 60;
/** From this share on nothing worth repeating is missing, if also dropouts are rare. Judgement. */
const KEEP_SHARE = 0.95;
/** Less than half of the minutes left: the other half holds what one looked for as likely as not. Judgement. */
const REPEAT_SHARE = 0.5;
/** One dropout an hour is tolerable (common practice, no source). */
const DROPOUTS_PER_HOUR = 1;
/** TIC RSD below 5 % very good, below 10 % acceptable, 10–15 % to be watched, above 20 % stop (common practice, no source). */
const SCATTER_WORDS: readonly [number, string][] = [
  [0.05, 'very steady'],
  [0.1, 'steady'],
  [0.15, 'to be watched, usual for data-dependent nanoLC'],
  [SCATTER_STOP, 'high'],
];

export interface VerdictInput {
  group: RunGroup | undefined;
  ms1_count: number;
  /** Stretches that are left out: the share is of the rest. */
  masked: RunReading['masked'];
  events: readonly RunEvent[];
  trust: Trust;
  zeros: number;
  bare_start: FoundEvents['bare_start'];
  invented: boolean;
  broken: boolean;
}

export function verdict(input: VerdictInput): RunReading['verdict'] {
  const { group, trust, events } = input;
  const asides = [
    ...(input.broken ? ['the file breaks off: only what stands before the break was judged'] : []),
    ...(input.invented ? ['the data are invented: this verdict is no evidence of any spray'] : []),
  ];
  const thin = tooThin(input);
  if (thin || !group) {
    return {
      grade: 'cannot tell',
      sentence: `Cannot tell: ${thin ?? 'the file holds no MS1 scan with a time and a level'}.`,
      reasons: asides,
    };
  }
  const span_s = group.end_s - group.start_s;
  const reasons = [scatterReason(group), ...eventReasons(events, span_s), ...asides];
  const bare_s = input.bare_start ? input.bare_start.end_s - input.bare_start.start_s : 0;
  if (input.bare_start) {
    const level = input.bare_start.ends_alike ? 'at the level the run ends at' : 'far below what follows';
    reasons.push(`the first ${durationText(bare_s)} stand ${level}: diverted or not yet sprayed, left out`);
  }
  if (input.zeros > 0) reasons.push(`${input.zeros} scans hold no ions at all`);
  if (trust.scattered_share > 0.005) {
    reasons.push(
      `${percentText(trust.scattered_share)} of the time scatters by more than ${percentText(SCATTER_STOP)} from scan to scan`,
    );
  }
  const kept = trust.trustworthy.reduce((sum, piece) => sum + piece.end_s - piece.start_s, 0);
  const amount = `${durationText(kept)} of ${durationText(span_s)} (${percentText(trust.share)} ${timeMeant(input)})`;
  // What was not sprayed by method is no loss; in a whole file that is not most of the run.
  const excused = input.broken || bare_s <= span_s / 2;
  const expected_s = excused ? span_s - bare_s : span_s;
  const silent = input.zeros > group.ms1_count / 2;
  if (silent || trust.share * span_s < REPEAT_SHARE * expected_s) {
    const why = silent ? 'more than half of the scans hold no ions' : `only ${amount} can be trusted`;
    return { grade: 'repeat', sentence: `Repeat this run: ${why}.`, reasons };
  }
  if (!input.broken && trust.share >= KEEP_SHARE && faultsAreRare(events, span_s)) {
    return {
      grade: 'keep',
      sentence: `Keep this run: the level holds for ${amount}.`,
      reasons,
    };
  }
  return {
    grade: 'keep these minutes',
    sentence: `Keep these minutes: ${amount} can be trusted${input.broken ? ', counted up to where the file breaks off' : ''}.`,
    reasons,
  };
}

function tooThin(input: VerdictInput): string | undefined {
  const { group } = input;
  if (!group) return undefined;
  const span_s = group.end_s - group.start_s;
  const of = input.ms1_count > group.ms1_count ? ' in the largest group that can be compared' : '';
  if (group.ms1_count < LEAST_SCANS) {
    return `${group.ms1_count} MS1 ${group.ms1_count === 1 ? 'scan' : 'scans'}${of} ${group.ms1_count === 1 ? 'is' : 'are'} too few, at least ${LEAST_SCANS} are needed`;
  }
  if (span_s < LEAST_SPAN_S)
    return `${durationText(span_s)}${of} is too short, at least ${LEAST_SPAN_S} s are needed`;
  return undefined;
}

function scatterReason(group: RunGroup): string {
  const scatter = group.scan_scatter ?? 0;
  const word =
    SCATTER_WORDS.find(([limit]) => scatter < limit)?.[1] ?? 'too high: an infusion would be stopped';
  return `the level scatters by ${percentText(scatter)} from scan to scan: ${word}`;
}

function eventReasons(events: readonly RunEvent[], span_s: number): string[] {
  const dropouts = events.filter((event) => event.kind === 'dropout');
  const sags = events.filter((event) => event.kind === 'sag');
  const gaps = events.filter((event) => event.kind === 'acquisition gap');
  const reasons: string[] = [];
  if (dropouts.length === 0 && sags.length === 0) reasons.push('no dropout and no sag was found');
  if (dropouts.length > 0) {
    const perHour = (dropouts.length * 3600) / span_s;
    reasons.push(
      `${counted(dropouts.length, 'dropout')}, ${lengthOf(dropouts)} in all (${perHour.toFixed(perHour < 10 ? 1 : 0)} an hour; one an hour is tolerable)`,
    );
  }
  if (sags.length > 0) reasons.push(`${counted(sags.length, 'sag')}, ${lengthOf(sags)} in all`);
  if (events.some((event) => event.kind === 'signal lost at the end')) {
    reasons.push('the signal is lost at the end and does not come back');
  }
  if (events.some((event) => event.kind === 'level lost')) {
    reasons.push('the level falls away and stays down, not at the end');
  }
  for (const kind of ['ripple', 'flicker', 'drift'] as const) {
    const some = events.filter((event) => event.kind === kind);
    if (some.length > 0) reasons.push(`${counted(some.length, kind)} of all ions, ${lengthOf(some)} in all`);
  }
  if (gaps.length > 0) {
    reasons.push(
      `${counted(gaps.length, 'acquisition gap')}, ${lengthOf(gaps)} in all, not counted against the spray`,
    );
  }
  return reasons;
}

/** No sag, no loss, no ripple, flicker or drift, at most one dropout an hour (one is always allowed). */
function faultsAreRare(events: readonly RunEvent[], span_s: number): boolean {
  if (events.some((event) => !['dropout', 'acquisition gap', 'burst'].includes(event.kind))) return false;
  const dropouts = events.filter((event) => event.kind === 'dropout').length;
  return dropouts <= Math.max(1, (DROPOUTS_PER_HOUR * span_s) / 3600);
}

function lengthOf(events: readonly RunEvent[]): string {
  return durationText(events.reduce((sum, event) => sum + event.end_s - event.start_s, 0));
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}
