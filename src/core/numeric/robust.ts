/**
 * Robust statistics of a sample: quantiles and the scatter from the median absolute deviation.
 * Up to half of the sample (median, MAD) may be anything at all without carrying the result away.
 */

/** Makes the MAD of a normal sample its standard deviation: 1 / Φ⁻¹(3/4). */
export const MAD_TO_SIGMA = 1.482602218505602;

/** NaN for an empty sample. */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/** Linear between order statistics (0 the smallest, 1 the largest); NaN for an empty sample. Values must not be NaN. */
export function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = room(values.length);
  sorted.set(values);
  return quantileOfSorted(sorted.sort(), values.length, share);
}

/**
 * Room for one sample, used again by the next call: a long series is looked at some hundred times, and as many copies of it
 * would wait to be given back. Only a very long one gets its own.
 */
function room(count: number): Float64Array {
  if (count > MOST_KEPT) return new Float64Array(count);
  if (count > kept.length) kept = new Float64Array(2 ** Math.ceil(Math.log2(count)));
  return kept.subarray(0, count);
}

const MOST_KEPT = 2 ** 20;
let kept = new Float64Array(1024);

/** Enough samples for a quartile to a twelfth of their scatter. */
const ENOUGH_SAMPLES = 240;

/** Quantile of at most ENOUGH_SAMPLES evenly taken samples: for series in time order, where a rough one will do. */
export function roughQuantile(values: readonly number[], share: number): number {
  const stride = Math.ceil(values.length / ENOUGH_SAMPLES);
  if (stride <= 1) return quantile(values, share);
  const some = Float64Array.from(
    { length: Math.ceil(values.length / stride) },
    (_, k) => values[k * stride]!,
  );
  return quantileOfSorted(some.sort(), some.length, share);
}

/** The same over the first `count` entries of an ascending array. */
export function quantileOfSorted(sorted: ArrayLike<number>, count: number, share: number): number {
  if (count === 0) return Number.NaN;
  const at = share * (count - 1);
  const below = Math.floor(at);
  const low = sorted[below]!;
  if (at === below) return low;
  return low + (at - below) * (sorted[below + 1]! - low);
}

/** 1.4826 times the median distance from the median: the standard deviation of a normal sample. */
export function madSigma(values: ArrayLike<number>): number {
  const middle = median(values);
  const distance = room(values.length);
  for (let i = 0; i < values.length; i++) distance[i] = Math.abs(values[i]! - middle);
  return MAD_TO_SIGMA * quantileOfSorted(distance.sort(), values.length, 0.5);
}
