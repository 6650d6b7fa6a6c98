/**
 * Sudden changes of the spray that last: in the background ions with their common slow course put back, else in the jump of
 * all ions at one moment, else in the level alone, where elution and a valve do the same.
 * A change that takes longer than some ten scans is drift, not a step.
 */
import { MAD_TO_SIGMA, median } from '../../core/numeric/robust.ts';
import { levelSteps } from '../../core/signal/index.ts';
import type { RunEvent } from '../run-reading.ts';
import { firstPast } from '../within-times.ts';
import { durationText, percentText, timeText } from '../words.ts';
import { causeWords } from './cause-words.ts';
import { HALF, RING } from './common-jump.ts';
import type { SpraySeries } from './spray-series.ts';

/** Least change and its sigmas. From 6 on none stands in the surrogate of the tuning runs. */
const STEP = { least_log: 0.16, sigmas: 6 };
const LEVEL_STEP = { least_log: 0.4, sigmas: 8 };
/** A witness agrees from this share of the step on (in logs). Judgement, as for falls. */
const AGREES = 0.4;
/** Steps over several steps long are no bubble: words of the long causes. */
const LASTING_S = 600;

export function stepEvents(series: SpraySeries, group: number): RunEvent[] {
  return series.has_background ? backgroundSteps(series, group) : jumpSteps(series, group);
}

function backgroundSteps(series: SpraySeries, group: number): RunEvent[] {
  const { log, course, low, high } = series.background;
  const at: number[] = [];
  for (let i = 0; i < log.length; i++) if (Number.isFinite(log[i]! + course[i]!)) at.push(i);
  const steps = levelSteps(
    at.map((i) => series.time_s[i]!),
    at.map((i) => log[i]! + course[i]!),
    STEP,
  );
  return steps.map((step) => {
    const i = at[step.at]!;
    // About the slow course a step is a jump in the middle of a saw tooth: near it low and high m/z still show it.
    const halves = Math.min(meanJump(low, i) / step.size_log, meanJump(high, i) / step.size_log);
    const level = meanJump(series.level_log, i) / step.size_log;
    const at_once = largest(series.jump, i, step.size_log);
    const common = halves >= AGREES ? true : halves < 0 ? false : undefined;
    let belief = 0.45;
    if (common === true) belief += 0.15;
    if (common === false) belief -= 0.2;
    if (level >= AGREES) belief += 0.1;
    if (common !== false && at_once >= AT_ONCE) belief += 0.1;
    if (level < -AGREES) belief -= 0.2;
    return {
      ...told(series.time_s, i, step.size_log, group),
      confidence: Math.round(100 * belief) / 100,
      confidence_basis: [
        `${step.sigmas.toFixed(1)} times what neighbouring minutes usually differ by`,
        common === true
          ? 'low and high m/z moved alike'
          : common === false
            ? 'low and high m/z did not move alike'
            : 'low and high m/z do not decide',
        level >= AGREES
          ? 'the total level followed'
          : level < -AGREES
            ? 'the total level went the other way'
            : 'the total level does not decide',
        ...(at_once >= AT_ONCE ? ['all ions jumped between two scans'] : []),
      ].join('; '),
      causes: causeWords('step', LASTING_S, common),
      ...(common === undefined ? {} : { common }),
      from: 'background ions' as const,
      sentence: `At ${timeText(series.time_s[i]!)} the background ions ${step.size_log < 0 ? 'fall' : 'rise'} by ${sizeText(step.size_log)} within a few scans and stay there.`,
    };
  });
}

/**
 * Without background ions the level may do anything; a step is then told by its one moment: all ions jump together, beyond
 * their own slopes, far more than they ever do in this run, and do not jump back.
 */
function jumpSteps({ jump, level_log, time_s }: SpraySeries, group: number): RunEvent[] {
  const known = jump.filter(Number.isFinite);
  if (known.length < LEAST_JUMPS) return [];
  const sigma = MAD_TO_SIGMA * median(known.map(Math.abs));
  const events: RunEvent[] = [];
  for (let i = 0; i < jump.length; i++) {
    const size = jump[i]!;
    if (!(Math.abs(size) >= Math.max(JUMP.least_log, JUMP.sigmas * sigma))) continue;
    if (hasWayBack(jump, time_s, i) || meanJump(level_log, i, HALF) / size < AGREES) continue;
    events.push({
      ...told(time_s, i, size, group),
      confidence: 0.55,
      confidence_basis: `all ions jumped at once beyond their own slopes, ${(Math.abs(size) / sigma).toFixed(0)} times what they usually do from scan to scan; the total level followed; no background ions stand here`,
      causes: causeWords('step', LASTING_S, undefined),
      from: 'matched peaks' as const,
      sentence: `At ${timeText(time_s[i]!)} all ions ${size < 0 ? 'fall' : 'rise'} by ${sizeText(size)} from one scan to the next and do not come back within ${durationText(BACK_S)}.`,
    });
  }
  return events;
}

/** Least jump and its sigmas: the largest of 2030 in a real run of 33 min is 0.24 and 9. */
const JUMP = { least_log: 0.27, sigmas: 8 };
const LEAST_JUMPS = 80;
const BACK_S = 180;
/** A jump the other way of this share is the way back, or one of two edges; beside the jump itself it rings with RING of its size. */
const WAY_BACK = 0.75;

/** Is there a jump the other way within BACK_S of scan `i`, before or after? */
function hasWayBack(jump: Float64Array, time_s: Float64Array, i: number): boolean {
  const first = firstPast(time_s, (time) => time_s[i]! - time < BACK_S);
  const past = firstPast(time_s, (time) => time - time_s[i]! >= BACK_S);
  for (let k = first; k < past; k++) {
    const share = -jump[k]! / jump[i]!;
    if (share >= WAY_BACK && (Math.abs(k - i) > HALF || share > WAY_BACK + RING)) return true;
  }
  return false;
}

/** Steps of the level where no peaks could be followed: told, never an alarm. */
export function levelStepEvents(
  time_s: readonly number[],
  log: ArrayLike<number>,
  group: number,
): RunEvent[] {
  return levelSteps(time_s, log, LEVEL_STEP).map((step) => ({
    ...told(time_s, step.at, step.size_log, group),
    confidence: 0.35,
    confidence_basis: `${step.sigmas.toFixed(1)} times what neighbouring minutes usually differ by; the level alone: elution, a valve or a new composition would do the same`,
    causes: causeWords('step', LASTING_S, undefined),
    sentence: `At ${timeText(time_s[step.at]!)} the level ${step.size_log < 0 ? 'falls' : 'rises'} by ${sizeText(step.size_log)} within a few scans and stays there for ${durationText(60)} or more.`,
  }));
}

function told(
  time_s: ArrayLike<number>,
  i: number,
  size_log: number,
  group: number,
): Pick<RunEvent, 'kind' | 'group' | 'start_s' | 'end_s' | 'depth'> {
  return {
    kind: 'step',
    group,
    start_s: time_s[Math.max(0, i - 1)]!,
    end_s: time_s[Math.min(time_s.length - 1, i + 1)]!,
    depth: size_log < 0 ? 1 - Math.exp(size_log) : null,
  };
}

function sizeText(size_log: number): string {
  return percentText(Math.abs(Math.exp(size_log) - 1));
}

/** Share of the step that all ions jump by within so many scans of its place. Judgement: scatter alone makes a third of a 30 % step. */
const AT_ONCE = 0.6;
const AT_ONCE_SCANS = 2;

function largest(jumps: Float64Array, i: number, size_log: number): number {
  let most = 0;
  for (let k = Math.max(0, i - AT_ONCE_SCANS); k <= Math.min(jumps.length - 1, i + AT_ONCE_SCANS); k++) {
    if (Number.isFinite(jumps[k]!)) most = Math.max(most, jumps[k]! / size_log);
  }
  return most;
}

const JUMP_SCANS = 12;

/** Mean of the scans after less that of the scans before, the two at the jump left out. */
function meanJump(values: Float64Array, i: number, scans = JUMP_SCANS): number {
  return mean(values, i + 1, i + 1 + scans) - mean(values, i - 1 - scans, i - 1);
}

function mean(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  let count = 0;
  for (let k = Math.max(0, from); k < Math.min(values.length, to); k++) {
    if (!Number.isFinite(values[k]!)) continue;
    sum += values[k]!;
    count++;
  }
  return count > 0 ? sum / count : 0;
}
