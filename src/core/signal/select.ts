/**
 * Order statistics of a scratch array without sorting it: for loops that take thousands of medians of some hundred
 * values. Every function reorders the first `count` entries; values must not be NaN.
 * Same answers as quantile, median and madSigma of core/numeric.
 */
import { MAD_TO_SIGMA } from '../numeric/robust.ts';

/** The value that stands at `rank` (0 the smallest) once sorted. Hoare's selection. */
export function select(values: Float64Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = middleOfThree(values[low]!, values[(low + high) >> 1]!, values[high]!);
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const held = values[i]!;
        values[i++] = values[j]!;
        values[j--] = held;
      }
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return values[rank]!;
}

/** NaN for none; the mean of the two middle ones for an even count. */
export function medianInPlace(values: Float64Array, count: number): number {
  if (count === 0) return Number.NaN;
  const half = count >> 1;
  const upper = select(values, count, half);
  if (count % 2 === 1) return upper;
  let lower = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < half; i++) if (values[i]! > lower) lower = values[i]!;
  return lower + 0.5 * (upper - lower);
}

/** Replaces the values by their distances from their median. */
export function madSigmaInPlace(values: Float64Array, count: number): number {
  const middle = medianInPlace(values, count);
  for (let i = 0; i < count; i++) values[i] = Math.abs(values[i]! - middle);
  return MAD_TO_SIGMA * medianInPlace(values, count);
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
