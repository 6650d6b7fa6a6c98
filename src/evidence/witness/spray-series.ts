/**
 * One group's spray series from what was seen of its peaks: the background factor where enough background ions stand,
 * and the course of the matched peaks' gains where not. The latter is a sum of gains less its own slow course: the sum
 * itself wanders by several ln units in a run and means nothing.
 */
import { correlationAboutZero } from '../../core/numeric/correlation.ts';
import { madSigma, median } from '../../core/numeric/robust.ts';
import { pauseFrom, slowMedian } from '../../core/signal/index.ts';
import { type BackgroundSeries, LEAST_IONS } from './background.ts';
import type { WitnessStream } from './run-witnesses.ts';

/** Gains lose their local middle over this time, their sum its course over twice that; at least so many scans. */
const GAIN_COURSE_S = 90;
const GAIN_COURSE_SCANS = 61;
/** Share of the scans that need a value for a series to be used. */
const USED_SHARE = 0.5;
const BACKGROUND_SHARE = 0.6;
/** A pair without enough matched peaks lends its step from the level, at most this much. */
const LENT_LOG = 5;

export interface SpraySeries {
  time_s: Float64Array;
  /** ln level of the same scans. */
  level_log: Float64Array;
  background: BackgroundSeries;
  /** True where the background factor may be used at all. */
  has_background: boolean;
  /** ln step from the scan before: the gain, or what the level lends where too few peaks match. */
  step: Float64Array;
  /** ln course of the gains, for showing only; NaN throughout when too few pairs match. */
  course: Float64Array;
  has_course: boolean;
  gain: Float64Array;
  gain_error: Float64Array;
  gain_low: Float64Array;
  gain_high: Float64Array;
  matched: Uint16Array;
  /** ln jump of all ions into the scan beyond their own slopes; NaN for none. */
  jump: Float64Array;
}

/** `scan_of_row` gives the scan of the group for a row of the record, -1 for none; rows must be in the same order. */
export function spraySeries(
  stream: WitnessStream,
  time_s: ArrayLike<number>,
  level_log: ArrayLike<number>,
): SpraySeries {
  const { background } = stream;
  const n = time_s.length;
  const pause_s = pauseFrom(time_s);
  const paused = (i: number): boolean => i > 0 && time_s[i]! - time_s[i - 1]! > pause_s;
  // A gain across a pause is none from scan to scan.
  const gain = Float64Array.from(stream.gain, (value, i) => (paused(i) ? Number.NaN : value));
  let steps = 0;
  const step = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    if (paused(i)) continue;
    if (Number.isNaN(gain[i]!)) {
      const lent = level_log[i]! - level_log[i - 1]!;
      step[i] = Math.max(-LENT_LOG, Math.min(LENT_LOG, lent));
    } else {
      step[i] = gain[i]!;
      steps++;
    }
  }
  const has_course = steps >= USED_SHARE * n;
  const course = new Float64Array(n).fill(Number.NaN);
  if (has_course) {
    const usual = slowMedian(time_s, step, GAIN_COURSE_S / 2, GAIN_COURSE_SCANS);
    let sum = 0;
    for (let i = 0; i < n; i++) {
      sum += step[i]! - usual[i]!;
      course[i] = sum;
    }
    const slow = slowMedian(time_s, course, GAIN_COURSE_S, 2 * GAIN_COURSE_SCANS);
    for (let i = 0; i < n; i++) course[i] = course[i]! - slow[i]!;
  }
  let seen = 0;
  for (let i = 0; i < n; i++) if (!Number.isNaN(background.log[i]!)) seen++;
  return {
    time_s: doubles(time_s),
    level_log: doubles(level_log),
    background,
    has_background:
      seen >= BACKGROUND_SHARE * n &&
      background.count >= LEAST_IONS &&
      !(has_course && unlikeGains(background.log, gain)),
    step,
    course,
    has_course,
    gain,
    gain_error: Float64Array.from(stream.gain_error),
    gain_low: Float64Array.from(stream.gain_low),
    gain_high: Float64Array.from(stream.gain_high),
    matched: stream.matched,
    jump: Float64Array.from(stream.jump),
  };
}

/**
 * Ions that eluting ones suppress stand in most scans and still do not show the spray: their factor then changes from
 * scan to scan by more than this times what the matched peaks do. Judgement: 1.0 to 1.3 in real runs with good background,
 * 1.9 where the factor followed elution.
 */
const LIKE_GAINS = 1.5;

function unlikeGains(log: Float64Array, gain: Float64Array): boolean {
  const steps: number[] = [];
  for (let i = 1; i < log.length; i++) {
    const step = log[i]! - log[i - 1]!;
    if (Number.isFinite(step)) steps.push(step);
  }
  const matched = gain.filter((value) => Number.isFinite(value));
  return steps.length > 2 && matched.length > 2 && madSigma(steps) > LIKE_GAINS * madSigma(matched);
}

function doubles(values: ArrayLike<number>): Float64Array {
  return values instanceof Float64Array ? values : Float64Array.from(values);
}

/** Correlation of the low and high halves' gains, each cut at four of its sigma so that one dropout does not make it. */
export function halvesCorrelation(series: SpraySeries): number | null {
  const a = new Float64Array(series.gain.length);
  const b = new Float64Array(series.gain.length);
  let count = 0;
  for (let i = 0; i < series.gain.length; i++) {
    if (Number.isNaN(series.gain_low[i]!) || Number.isNaN(series.gain_high[i]!)) continue;
    a[count] = series.gain_low[i]!;
    b[count++] = series.gain_high[i]!;
  }
  if (count < LEAST_PAIRS) return null;
  const low = standardised(a.subarray(0, count));
  const high = standardised(b.subarray(0, count));
  const r = correlationAboutZero(low, high);
  return Number.isNaN(r) ? null : r;
}

const LEAST_PAIRS = 20;
const CUT_SIGMAS = 4;

function standardised(values: Float64Array): Float64Array {
  const middle = median(values);
  const sigma = madSigma(values);
  for (let i = 0; i < values.length; i++) {
    const off = sigma > 0 ? (values[i]! - middle) / sigma : 0;
    values[i] = Math.max(-CUT_SIGMAS, Math.min(CUT_SIGMAS, off));
  }
  return values;
}
