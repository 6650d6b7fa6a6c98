/**
 * Is the level already a rate? Under fill control of a trapping instrument a rate makes ln level fall by one for each
 * unit that ln fill time rises (slope -1) while level x fill time, the ions of one scan, stays flat; counts per scan
 * make the level itself flat (slope 0). Fills stopped at the maximum follow neither and are left out. Where the fills
 * hardly move nothing is decided.
 */
import { MAD_TO_SIGMA, madSigma, median, quantile } from '../../core/numeric/robust.ts';
import type { RateReading } from '../run-reading.ts';
import { percentText } from '../words.ts';

const LEAST_SCANS = 20;
/** Fills this close to the longest are stopped at the maximum. */
const CLAMP_SHARE = 0.99;
/** Scatter of ln fill below which the slope is noise. Judgement. */
const LEAST_SPREAD = 0.1;
const RATE_SLOPE = [-1.3, -0.6] as const;
const COUNTS_SLOPE = -0.3;
/** Standard errors a slope has to keep from the other answer; neighbours are correlated, hence more than two. */
const SLOPE_ERRORS = 3;
/** Thirds of the fills have to differ this much to compare their scatter. */
const FILL_RATIO = 1.5;
/** Expected with counting noise alone or less; above it the short fills scatter on their own. Judgement. */
const SHORT_SCATTERS = 1.4;

export function rateReading(
  level: readonly number[],
  injection_ms: readonly (number | null)[],
): RateReading | null {
  let longest = 0;
  for (const fill of injection_ms) longest = Math.max(longest, fill ?? 0);
  const room = { x: new Float64Array(level.length), y: new Float64Array(level.length) };
  const off = new Float64Array(level.length);
  let count = 0;
  for (let i = 0; i < level.length; i++) {
    const fill = injection_ms[i] ?? 0;
    if (!(fill > 0 && fill < CLAMP_SHARE * longest && level[i]! > 0)) continue;
    room.x[count] = Math.log(fill);
    room.y[count] = Math.log(level[i]!);
    const before = level[i - 1];
    const after = level[i + 1];
    off[count++] =
      before !== undefined && after !== undefined && before > 0 && after > 0
        ? Math.abs(Math.log(level[i]!) - Math.log(before * after) / 2)
        : Number.NaN;
  }
  const x = room.x.subarray(0, count);
  const y = room.y.subarray(0, count);
  const residual = off.subarray(0, count);
  if (x.length < LEAST_SCANS) return null;
  const { slope, slope_error } = line(x, y);
  const spread = madSigma(x);
  const says =
    spread < LEAST_SPREAD
      ? 'cannot tell'
      : slope > RATE_SLOPE[0] && slope < RATE_SLOPE[1] && slope + SLOPE_ERRORS * slope_error < COUNTS_SLOPE
        ? 'a rate'
        : slope > COUNTS_SLOPE && slope - SLOPE_ERRORS * slope_error > RATE_SLOPE[1]
          ? 'counts per scan'
          : 'cannot tell';
  const fill_scatter = madSigma(y.map((value, i) => value + x[i]!));
  const level_scatter = madSigma(y);
  const ratio = shortOverLong(x, residual);
  return {
    slope,
    slope_error,
    says,
    fill_scatter,
    level_scatter,
    scatter_short_over_long: ratio,
    sentences: sentences({ slope, spread, says, fill_scatter, level_scatter, ratio }),
  };
}

function line(x: Float64Array, y: Float64Array): { slope: number; slope_error: number } {
  const n = x.length;
  const mx = x.reduce((sum, value) => sum + value, 0) / n;
  const my = y.reduce((sum, value) => sum + value, 0) / n;
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < n; i++) {
    xx += (x[i]! - mx) ** 2;
    xy += (x[i]! - mx) * (y[i]! - my);
  }
  if (!(xx > 0)) return { slope: 0, slope_error: 1e9 };
  const slope = xy / xx;
  let left = 0;
  for (let i = 0; i < n; i++) left += (y[i]! - my - slope * (x[i]! - mx)) ** 2;
  return { slope, slope_error: Math.sqrt(left / (n - 2) / xx) };
}

function shortOverLong(x: Float64Array, residual: Float64Array): number | null {
  const low = quantile(x, 1 / 3);
  const high = quantile(x, 2 / 3);
  const short = residual.filter((value, i) => x[i]! <= low && !Number.isNaN(value));
  const long = residual.filter((value, i) => x[i]! >= high && !Number.isNaN(value));
  if (short.length < LEAST_SCANS || long.length < LEAST_SCANS) return null;
  if (quantile(x, 5 / 6) - quantile(x, 1 / 6) < Math.log(FILL_RATIO)) return null;
  const below = MAD_TO_SIGMA * median(long);
  return below > 0 ? (MAD_TO_SIGMA * median(short)) / below : null;
}

function sentences(found: {
  slope: number;
  spread: number;
  says: RateReading['says'];
  fill_scatter: number;
  level_scatter: number;
  ratio: number | null;
}): string[] {
  const slope = found.slope.toFixed(2);
  const list = [
    found.says === 'a rate'
      ? `The level is a rate: it falls as the fill time rises (slope ${slope} of ln level on ln fill time, -1 expected).`
      : found.says === 'counts per scan'
        ? `The level counts the ions of a scan (slope ${slope}): under fill control it stays flat whatever the spray does. Events and the spray factor were looked for in level over fill time.`
        : found.spread < LEAST_SPREAD
          ? 'Whether the level is a rate is not decided: the fill times hardly change. Decides: a stretch with and without sample.'
          : `Whether the level is a rate is not decided (slope ${slope} of ln level on ln fill time). Decides: the conversion's own description, or an infusion with two fill targets.`,
  ];
  if (found.says === 'a rate') {
    list.push(
      `Level x fill time scatters by ${percentText(found.fill_scatter)}, the level by ${percentText(found.level_scatter)}: ${
        found.fill_scatter < found.level_scatter / 2
          ? 'fill control holds the ions of a scan'
          : 'fill control does not hold the ions of a scan'
      }.`,
    );
  }
  if (found.ratio !== null) {
    const times = found.ratio.toFixed(2);
    list.push(
      found.ratio > SHORT_SCATTERS
        ? `Scans with short fills scatter ${times} times as much as those with long ones: slow pulsation would do that, and elution, which brings the short fills, does too.`
        : `Scans with short fills scatter ${times} times as much as those with long ones: no mark of slow pulsation.`,
    );
  }
  return list;
}
