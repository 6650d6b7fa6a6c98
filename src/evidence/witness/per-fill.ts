/**
 * Counts of a scan made rates: where the level counts the ions of a scan (rate.ts), every peak follows the fill time, and
 * a fill control that jitters or answers to elution looks like the spray. Divided by the fill it no longer does.
 * The slow course of the fill stays out of the background factor, as that of the ions does.
 */
import { slowMedian } from '../../core/signal/index.ts';
import type { SpraySeries } from './spray-series.ts';

/** As the slow course of background ions. */
const COURSE_S = 300;
const COURSE_SCANS = 129;

/** The level over its fill; the level itself where a scan has no fill. */
export function levelPerFill(level: readonly number[], injection_ms: readonly (number | null)[]): number[] {
  let sum = 0;
  let count = 0;
  for (const fill of injection_ms) {
    if (!((fill ?? 0) > 0)) continue;
    sum += Math.log(fill!);
    count++;
  }
  const usual = Math.exp(sum / Math.max(1, count));
  return level.map((value, i) => {
    const fill = injection_ms[i] ?? 0;
    return fill > 0 ? (value * usual) / fill : value;
  });
}

/**
 * `fill_log` holds ln fill of each scan of the series; without all of them nothing is divided. Gains, steps and course are
 * rewritten where they stand, for a long run would else hold each of them twice; the background is the stream's own and stays.
 */
export function sprayPerFill(series: SpraySeries, fill_log: Float64Array): SpraySeries {
  if (fill_log.some((value) => !Number.isFinite(value))) return series;
  const course = slowMedian(series.time_s, fill_log, COURSE_S / 2, COURSE_SCANS);
  const about = (values: Float64Array): Float64Array =>
    values.map((value, i) => value - (fill_log[i]! - course[i]!));
  for (const values of [series.step, series.gain, series.gain_low, series.gain_high])
    for (let i = 1; i < values.length; i++) values[i] = values[i]! - (fill_log[i]! - fill_log[i - 1]!);
  for (let i = 0; i < series.course.length; i++)
    series.course[i] = series.course[i]! - (fill_log[i]! - course[i]!);
  // Ions counted per scan jump with its fill.
  series.jump.fill(Number.NaN);
  const { background } = series;
  return {
    ...series,
    background: {
      ...background,
      log: about(background.log),
      low: about(background.low),
      high: about(background.high),
      course: background.course.map((value, i) => value - course[i]!),
    },
  };
}
