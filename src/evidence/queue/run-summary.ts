/**
 * One run of a queue in a few numbers: what the queue's table, trends and calendar rest on. The series stays in the reading.
 * Approximation: one number for a whole run; a run whose second half failed shows in its kept share, not in its medians.
 */
import { median } from '../../core/numeric/robust.ts';
import type { RunEventKind, RunReading, VerdictGrade } from '../run-reading.ts';
import { timeText } from '../words.ts';

export interface RunSummary {
  format: RunReading['format'];
  grade: VerdictGrade;
  sentence: string;
  invented: boolean;
  /** Where and why the file breaks off; null for a whole file. */
  broken: string | null;
  ms1_count: number;
  /** First and last scan of the group that carries the verdict [s of run time]. */
  start_s: number;
  end_s: number;
  interval_s: number;
  /** Trustworthy spans [s of run time] and their share of the time with scans. */
  kept: { start_s: number; end_s: number }[];
  kept_share: number;
  /** Scatter from scan to scan as a fraction; null where too few scans. */
  scan_scatter: number | null;
  /** Scatter about the slow course as a fraction. */
  course_scatter: number | null;
  /** Median ion injection time [ms]; null where the file gives none. */
  injection_ms: number | null;
  /** Share of fills at the maximum. */
  clamped_share: number | null;
  /** Median level; null where there is none. */
  level: number | null;
  /** Level of the background ions found: their share of the level times its median; null where none were followed. */
  background: number | null;
  /** The stability grade and its definition; null where the reading has none. */
  stability: { grade: string; definition: string } | null;
  /** With which set-up and without which minutes it was judged, as words; absent where neither was given. */
  judged?: string;
  /** Events of the same group, acquisition gaps left out. */
  events: { kind: RunEventKind; start_s: number; end_s: number; depth: number | null; confidence: number }[];
}

export function runSummary(reading: RunReading): RunSummary {
  const group = reading.groups[reading.main_group];
  const level = group && group.series.level.length > 0 ? median(group.series.level) : null;
  const shares = (group?.spray?.background ?? []).map((ion) => ion.share);
  return {
    format: reading.format,
    grade: reading.verdict.grade,
    sentence: reading.verdict.sentence,
    invented: reading.invented,
    broken: reading.broken ? `breaks off at byte ${reading.broken.byte}: ${reading.broken.reason}` : null,
    ms1_count: reading.ms1_count,
    start_s: group?.start_s ?? 0,
    end_s: group?.end_s ?? 0,
    interval_s: group?.interval_s ?? 0,
    kept: reading.trustworthy.map(({ start_s, end_s }) => ({ start_s, end_s })),
    kept_share: reading.trustworthy_share,
    scan_scatter: group?.scan_scatter ?? null,
    course_scatter: group?.scatter ?? null,
    injection_ms: group?.injection_time?.median_ms ?? null,
    clamped_share: group?.injection_time?.clamped_share ?? null,
    level,
    background:
      level !== null && shares.length > 0 ? level * shares.reduce((sum, share) => sum + share, 0) : null,
    stability: reading.stability
      ? { grade: reading.stability.grade, definition: reading.stability.definition }
      : null,
    ...judgedWords(reading),
    events: reading.events
      .filter((event) => event.group === reading.main_group && event.kind !== 'acquisition gap')
      .map(({ kind, start_s, end_s, depth, confidence }) => ({ kind, start_s, end_s, depth, confidence })),
  };
}

function judgedWords({ method, masked }: RunReading): Pick<RunSummary, 'judged'> {
  const asked = masked.filter(({ reason }) => reason === 'asked for');
  const parts = [
    ...(method ? [`the phases of the method by ${method.from}`] : []),
    ...asked.map(({ start_s, end_s }) => `${timeText(start_s)} to ${timeText(end_s)} left out`),
  ];
  return parts.length > 0 ? { judged: parts.join('; ') } : {};
}

/** Lost for good: nothing to keep, or the signal went and did not come back (and that is believed). */
export function isBad(summary: RunSummary): boolean {
  return (
    summary.grade === 'repeat' ||
    summary.events.some(
      (event) => event.kind === 'signal lost at the end' && event.confidence >= LOSS_BELIEVED,
    )
  );
}

/** Confidence from which a loss at the end counts: below it a valve of the method is as likely. Judgement. */
const LOSS_BELIEVED = 0.5;
