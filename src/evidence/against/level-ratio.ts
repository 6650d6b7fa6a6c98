/**
 * The level of a run on even steps, and its ratio to that of another. The level follows elution: it is only used where
 * the two levels change alike from step to step, or hardly change at all, and what is left is told by its wandering.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
import type { RunGroup } from '../run-reading.ts';
import { levelPerFill } from '../witness/per-fill.ts';
import { centred, type RatioSeries } from './common-ions.ts';
import { type LevelSteps, levelAt, type RunTimes } from './run-times.ts';

/** Scans in a step at least. */
const SCANS_A_STEP = 4;
/** As many as the ions' steps at most. */
const MOST_STEPS = 720;
/** Changes from step to step below this are those of a level that hardly moves. Judgement. */
export const QUIET_LOG = 0.06;

export function stepOf(groups: readonly RunGroup[], least_s: number): number {
  return Math.max(
    least_s,
    ...groups.map(({ interval_s, start_s, end_s }) =>
      Math.max(SCANS_A_STEP * interval_s, (end_s - start_s) / MOST_STEPS),
    ),
  );
}

export function steppedLevel(group: RunGroup, step_s: number): LevelSteps {
  const { level, injection_ms } = group.series;
  const rate = isCounted(group) ? levelPerFill(level, injection_ms) : level;
  return stepped(group, rate, step_s, group.start_s, (values) => Math.log(median(values)));
}

/** ln of the mean fill in each step: what the mean of counts in it follows. 0 throughout where the level is a rate. */
export function steppedFill(group: RunGroup, step_s: number, start_s: number): LevelSteps {
  const fills = group.series.injection_ms.map((fill) => (isCounted(group) ? (fill ?? 0) : 1));
  const mean = (values: readonly number[]): number =>
    Math.log(values.reduce((sum, value) => sum + value, 0) / values.length);
  return stepped(group, fills, step_s, start_s, mean);
}

function stepped(
  group: RunGroup,
  values: readonly number[],
  step_s: number,
  start_s: number,
  middle: (values: readonly number[]) => number,
): LevelSteps {
  const { time_s } = group.series;
  const count = Math.max(1, Math.ceil((group.end_s - start_s) / step_s));
  const inStep: number[][] = Array.from({ length: count }, () => []);
  values.forEach((value, i) => {
    const at = Math.min(count - 1, Math.floor((time_s[i]! - start_s) / step_s));
    if (value > 0 && at >= 0) inStep[at]!.push(value);
  });
  return { start_s, step_s, log: Float64Array.from(inStep, middle) };
}

/** Does the level count the ions of a scan, so that only level over fill is a rate? */
export function isCounted(group: RunGroup): boolean {
  return group.rate?.says === 'counts per scan';
}

/** What the level changes by from step to step, as a log. */
export function changesOf({ log }: LevelSteps): number {
  const changes: number[] = [];
  for (let i = 1; i < log.length; i++) {
    const change = log[i]! - log[i - 1]!;
    if (Number.isFinite(change)) changes.push(change);
  }
  return changes.length > 0 ? madSigma(changes) : Number.NaN;
}

export function levelRatio(ours: LevelSteps, theirs: LevelSteps, times: RunTimes): RatioSeries {
  const raw = Float64Array.from(
    ours.log,
    (log, i) => log - levelAt(theirs, times.there(ours.start_s + (i + 0.5) * ours.step_s)),
  );
  const { log, middle } = centred(raw);
  const changes = log.map((value, i) => (i > 0 ? value - log[i - 1]! : Number.NaN)).filter(Number.isFinite);
  const own = changes.length > 0 ? madSigma(changes) / Math.SQRT2 : Number.NaN;
  return {
    log,
    error: log.map((value) => (Number.isNaN(value) ? Number.NaN : own)),
    low: new Float64Array(0),
    high: new Float64Array(0),
    middle,
    middle_error: own,
    ions: 0,
  };
}
