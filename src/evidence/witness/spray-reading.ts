/**
 * What the peaks of one group of scans say of the spray: its series with error, falls, bursts, ripples and flicker, what
 * the series could just have shown, and in words what it rests on.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
import type { DetectionLimits, RunEvent, SprayReading } from '../run-reading.ts';
import type { Span } from '../run-trust.ts';
import { detectionLimits } from './detection-limits.ts';
import { driftEvent } from './drift-event.ts';
import { fallEvent, LASTING_S } from './fall-events.ts';
import { flickers } from './flicker-events.ts';
import { explains, footOf, lastingSteps } from './lasting-steps.ts';
import { quietScans } from './quiet-scans.ts';
import { periods, rippleEvent } from './ripple-events.ts';
import { sprayFalls } from './spray-falls.ts';
import { halvesCorrelation, type SpraySeries } from './spray-series.ts';
import { backgroundTold, spraySentences } from './spray-words.ts';

/** Halves that agree at least so well license the word common; below the other they deny it. Judgement, between 0 (elution) and 0.7–0.98 (nanoLC with data-dependent scans) measured on real runs. */
const COMMON_R = 0.5;
const NOT_COMMON_R = 0.2;
/** Falls believed less than this are elution and are not told. */
const TOLD = 0.25;

export interface SprayFound {
  reading: SprayReading;
  /** Scans of the group's series are counted; times in seconds. */
  events: RunEvent[];
  limits: DetectionLimits;
}

export interface SprayContext {
  group: number;
  polarity: 'positive' | 'negative' | 'unknown';
  /** Position in the group's series of each scan of the spray series; -1 where it has none. */
  at: Int32Array;
  /** Scans in the group's series. */
  count: number;
  /** Middle of the level as the file gives it; of it the background's shares are told. Default 1. */
  usual_level?: number;
  /** Stretches in which ripple and flicker are not looked for: a bare start, a loss at the end. */
  silent: readonly Span[];
}

export function sprayReading(series: SpraySeries, context: SprayContext): SprayFound | null {
  if (!series.has_background && !series.has_course) return null;
  const from = series.has_background ? 'background ions' : 'matched peaks';
  const log = series.has_background ? series.background.log : series.course;
  const error = series.has_background ? series.background.error : wander(series);
  const found = sprayFalls(series);
  const long = series.time_s.at(-1)! - series.time_s[0]! >= LASTING_S;
  const steps = long ? lastingSteps(series, context, found.falls) : [];
  // About its slow course a step is a saw tooth, whose foot looks like a shallow fall.
  const falls = found.falls.filter((fall) => !steps.some((step) => footOf(step, fall, series)));
  const events = falls
    .map((fall) => fallEvent(fall, series, context.group))
    .filter((event) => event.confidence >= TOLD);
  const rest = quietScans(series, log, falls, context.silent);
  const period = long ? periods(series, rest) : [];
  events.push(...period.map((line) => rippleEvent(line, context.group, rest.steps)));
  if (long) events.push(...flickers(series, rest, context.group));
  events.push(...steps);
  const drift = series.has_background ? driftEvent(series, context.group) : null;
  if (drift && !steps.some((step) => explains(step, drift))) events.push(drift);
  const halves = halvesCorrelation(series);
  const gains = series.gain.filter((gain) => !Number.isNaN(gain));
  const errors = series.gain_error.filter((value) => !Number.isNaN(value));
  const common =
    halves === null || gains.length === 0
      ? 'cannot tell'
      : madSigma(gains) < STILL * median(errors)
        ? 'cannot tell'
        : halves >= COMMON_R
          ? 'common'
          : halves < NOT_COMMON_R
            ? 'not common'
            : 'cannot tell';
  const limits = detectionLimits(series, found.limits, rest);
  const reading: SprayReading = {
    from,
    factor: spread(context, log, Math.exp),
    error: spread(context, error, (value) => value),
    gain: spread(context, series.gain, (value) => value),
    gain_error: spread(context, series.gain_error, (value) => value),
    matched: Array.from({ length: context.count }, () => 0),
    gain_sd: gains.length > 2 ? madSigma(gains) : null,
    gain_error_median: errors.length > 0 ? median(errors) : null,
    matched_median: median(series.matched),
    halves_correlation: halves,
    common,
    background: backgroundTold(series, context.polarity, context.usual_level ?? 1),
    periods: period,
    sentences: [],
  };
  context.at.forEach((position, i) => {
    if (position >= 0) reading.matched[position] = series.matched[i]!;
  });
  reading.sentences.push(...spraySentences(reading, series));
  return { reading, events, limits };
}

/** A sum of gains is only known to what it wanders by. */
function wander(series: SpraySeries): Float64Array {
  const wide = madSigma(series.course.filter((value) => !Number.isNaN(value)));
  return series.course.map((value) => (Number.isNaN(value) ? Number.NaN : wide));
}

/** Gains that scatter less than this many of their own errors show nothing that could be common. */
const STILL = 1.3;

function spread(
  context: SprayContext,
  values: Float64Array,
  shown: (value: number) => number,
): (number | null)[] {
  const out: (number | null)[] = Array.from({ length: context.count }, () => null);
  context.at.forEach((position, i) => {
    const value = values[i]!;
    if (position >= 0 && Number.isFinite(value)) out[position] = shown(value);
  });
  return out;
}
