/**
 * Quantile over a moving window of an unevenly sampled series.
 * The window is kept as one sorted array; a step moves only the entries between the one that leaves and the one that
 * enters, which is quick up to some thousands of samples in the window. Values must be finite.
 */
import { quantileOfSorted } from '../numeric/robust.ts';

/** Half-open index windows [start[i], end[i]); both ascend with i. */
export interface IndexWindows {
  start: Int32Array;
  end: Int32Array;
}

/** Samples within `half_s` of each sample, widened at need to `least` samples (half on each side, cut at the ends). */
export function centredWindows(
  time_s: ArrayLike<number>,
  half_s: number,
  least: number,
  into: IndexWindows = windowsFor(time_s.length),
): IndexWindows {
  const n = time_s.length;
  const { start, end } = into;
  const reach = least >> 1;
  let first = 0;
  let past = 0;
  for (let i = 0; i < n; i++) {
    const t = time_s[i]!;
    while (time_s[first]! < t - half_s) first++;
    while (past < n && time_s[past]! <= t + half_s) past++;
    start[i] = Math.max(0, Math.min(first, i - reach));
    end[i] = Math.min(n, Math.max(past, i + reach + 1));
  }
  return { start, end };
}

function windowsFor(count: number): IndexWindows {
  return { start: new Int32Array(count), end: new Int32Array(count) };
}

/** Windows that hold until the next call; only those of a very long series get their own memory. */
function windowsKept(count: number): IndexWindows {
  if (count > MOST_KEPT) return windowsFor(count);
  if (count > kept.start.length) kept = windowsFor(2 ** Math.ceil(Math.log2(count)));
  return { start: kept.start.subarray(0, count), end: kept.end.subarray(0, count) };
}

const MOST_KEPT = 2 ** 20;
let kept = windowsFor(1024);

export function runningMedian(
  values: ArrayLike<number>,
  windows: IndexWindows,
  out?: Float64Array,
): Float64Array {
  return runningQuantile(values, windows, 0.5, out);
}

/** A window this full is thinned: the median of this many samples is known to a twentieth of their scatter. */
const ENOUGH_SAMPLES = 600;

/**
 * Median within `half_s` of each sample, for slow courses: where the windows hold far more than ENOUGH_SAMPLES, only
 * every k-th sample is used and the nearest result held. `out`, as long as the values, takes the result.
 */
export function slowMedian(
  time_s: ArrayLike<number>,
  values: ArrayLike<number>,
  half_s: number,
  least: number,
  out: Float64Array = new Float64Array(values.length),
): Float64Array {
  const n = values.length;
  const span_s = n > 1 ? time_s[n - 1]! - time_s[0]! : 0;
  const within = span_s > 0 ? (2 * half_s * n) / span_s : n;
  const stride = Math.max(1, Math.floor(Math.min(within, n) / ENOUGH_SAMPLES));
  const windows = (times: ArrayLike<number>): IndexWindows =>
    centredWindows(times, half_s, least, windowsKept(times.length));
  if (stride === 1) return runningMedian(values, windows(time_s), out);
  const count = Math.ceil(n / stride);
  const times = Float64Array.from({ length: count }, (_, k) => time_s[k * stride]!);
  const thinned = Float64Array.from({ length: count }, (_, k) => values[k * stride]!);
  const medians = runningMedian(thinned, windows(times));
  for (let i = 0; i < n; i++) out[i] = medians[Math.min(count - 1, Math.round(i / stride))]!;
  return out;
}

/** One value for each window; NaN for an empty one. */
export function runningQuantile(
  values: ArrayLike<number>,
  windows: IndexWindows,
  share: number,
  result: Float64Array = new Float64Array(windows.start.length),
): Float64Array {
  const count = windows.start.length;
  let widest = 0;
  for (let i = 0; i < count; i++) widest = Math.max(widest, windows.end[i]! - windows.start[i]!);
  const sorted = new Float64Array(widest + 1);
  let size = 0;
  let first = 0;
  let past = 0;
  for (let i = 0; i < count; i++) {
    const start = windows.start[i]!;
    const end = windows.end[i]!;
    // Pairs of one leaving and one entering first, then whatever is left of either kind.
    while (first < start && past < end && first < past) {
      replace(sorted, size, values[first++]!, values[past++]!);
    }
    while (first < start && first < past) size = remove(sorted, size, values[first++]!);
    if (first < start) first = past = start;
    while (past < end) size = insert(sorted, size, values[past++]!);
    result[i] = quantileOfSorted(sorted, size, share);
  }
  return result;
}

/** Index of the first entry >= value. */
function position(sorted: Float64Array, size: number, value: number): number {
  let low = 0;
  let high = size;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function insert(sorted: Float64Array, size: number, value: number): number {
  const at = position(sorted, size, value);
  sorted.copyWithin(at + 1, at, size);
  sorted[at] = value;
  return size + 1;
}

function remove(sorted: Float64Array, size: number, value: number): number {
  const at = position(sorted, size, value);
  sorted.copyWithin(at, at + 1, size);
  return size - 1;
}

function replace(sorted: Float64Array, size: number, leaving: number, entering: number): void {
  const from = position(sorted, size, leaving);
  const to = position(sorted, size, entering);
  if (to > from) {
    sorted.copyWithin(from, from + 1, to);
    sorted[to - 1] = entering;
  } else {
    sorted.copyWithin(to + 1, to, from);
    sorted[to] = entering;
  }
}
