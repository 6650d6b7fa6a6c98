/**
 * Scatter from scan to scan: each sample against the mean of its two neighbours. A slope and any hump wider than a few
 * samples cancel, so that elution counts for little; a peak only two or three samples wide still counts as scatter.
 */
import { MAD_TO_SIGMA, median } from '../numeric/robust.ts';
import { slowMedian } from './running-quantile.ts';

/** x − (a + b)/2 of three equal, independent samples has the variance 1 + 1/4 + 1/4. */
const NEIGHBOUR_VARIANCE = 1.5;

export interface ScanScatter {
  /** Over the whole series; NaN with fewer than three samples. */
  overall: number;
  /** Around each sample. */
  local: Float64Array;
}

/** `log_level` is the natural logarithm, so that the result is a fraction while it is small. */
export function scanScatter(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  window_s: number,
  least: number,
): ScanScatter {
  const n = log_level.length;
  if (n < 3) return { overall: Number.NaN, local: new Float64Array(n) };
  const distance = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const between = (log_level[i - 1]! + log_level[i + 1]!) / 2;
    distance[i] = Math.abs(log_level[i]! - between) / Math.sqrt(NEIGHBOUR_VARIANCE);
  }
  distance[0] = distance[1]!;
  distance[n - 1] = distance[n - 2]!;
  const local = slowMedian(time_s, distance, window_s / 2, least);
  for (let i = 0; i < n; i++) local[i] = local[i]! * MAD_TO_SIGMA;
  return { overall: MAD_TO_SIGMA * median(distance.subarray(1, n - 1)), local };
}
