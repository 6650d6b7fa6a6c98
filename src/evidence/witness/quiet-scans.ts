/**
 * The scans outside falls and silent stretches: the series in which ripple and flicker are looked for.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
import type { Span } from '../run-trust.ts';
import type { SprayFall } from './spray-falls.ts';
import type { SpraySeries } from './spray-series.ts';

/** Fewer scans hold no ripple that could be told. */
export const LEAST_RIPPLE_SCANS = 80;

export interface Rest {
  time_s: Float64Array;
  value: Float64Array;
  error: Float64Array;
  /** The values are gains from scan to scan, not levels. */
  steps: boolean;
}

/**
 * Scans outside falls and silent stretches with the series ripple and flicker are looked for in: the background factor,
 * else the gains themselves, because their summed course wanders.
 */
export function quietScans(
  series: SpraySeries,
  log: Float64Array,
  falls: readonly SprayFall[],
  silent: readonly Span[],
): Rest {
  const steps = !series.has_background;
  const source = steps ? series.gain : log;
  const errors = steps ? series.gain_error : series.background.error;
  const room = Array.from({ length: 3 }, () => new Float64Array(log.length));
  const [times, values, kept] = room as [Float64Array, Float64Array, Float64Array];
  let count = 0;
  // Short shallow falls and bursts may be what a flicker is made of: they stay, but for one with no other near it.
  const gone = falls.filter(
    (fall) =>
      fall.sign < 0 &&
      (fall.size_log > Math.LN2 ||
        fall.past - fall.first >= LONE_SCANS ||
        !falls.some((other) => other !== fall && gapOf(fall, other) < NEAR_SCANS)),
  );
  let lost = 0;
  for (const fall of gone) lost += fall.past - fall.first;
  const leave = lost < MOST_LEFT_OUT * log.length;
  let next = 0;
  for (let i = 0; i < log.length; i++) {
    while (next < gone.length && gone[next]!.past < i) next++;
    const fall = gone[next];
    if (leave && fall && i >= fall.first && i <= fall.past) continue;
    const time = series.time_s[i]!;
    if (silent.some((span) => time >= span.start_s && time <= span.end_s)) continue;
    if (!Number.isFinite(source[i]!) || !Number.isFinite(errors[i]!)) continue;
    times[count] = time;
    values[count] = source[i]!;
    kept[count++] = errors[i]!;
  }
  const time_s = times.subarray(0, count);
  return {
    time_s,
    value: withoutSpacing(values.subarray(0, count), time_s),
    error: kept.subarray(0, count),
    steps,
  };
}

/** A fall this long stands alone, as does one with no other within so many scans: those of a flicker crowd. Judgement. */
const LONE_SCANS = 8;
const NEAR_SCANS = 24;
/** Falls over more of the run than this are no exceptions: periodic drips are among them. */
const MOST_LEFT_OUT = 0.2;

function gapOf(a: SprayFall, b: SprayFall): number {
  return Math.max(a.first - b.past, b.first - a.past);
}

/** What follows the time since the scan before is the acquisition's doing, not the spray's: a straight line is taken out. */
function withoutSpacing(value: Float64Array, time_s: Float64Array): Float64Array {
  const n = value.length;
  if (n < LEAST_RIPPLE_SCANS) return value;
  const gap = Float64Array.from({ length: n }, (_, i) => (i > 0 ? time_s[i]! - time_s[i - 1]! : Number.NaN));
  gap[0] = gap[1]!;
  const usual = median(gap);
  const middle = median(value);
  const sigma = madSigma(value);
  let xx = 0;
  let xy = 0;
  const x = gap.map((g) => Math.max(-1, Math.min(2, g / usual - 1)));
  const mean = x.reduce((sum, v) => sum + v, 0) / n;
  for (let i = 0; i < n; i++) {
    const off = Math.max(-3 * sigma, Math.min(3 * sigma, value[i]! - middle));
    xx += (x[i]! - mean) ** 2;
    xy += (x[i]! - mean) * off;
  }
  // Only where the spacing really varies: else the line is noise.
  if (!(xx > n * 0.01)) return value;
  return value.map((v, i) => v - (xy / xx) * (x[i]! - mean));
}
