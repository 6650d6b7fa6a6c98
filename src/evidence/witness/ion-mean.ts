/**
 * The middle over the ions of one scan: weighted median, then one step to the cut mean. An ion that is missing counts as
 * lower than any value; where most are missing there is none.
 */

/** Deviations are cut at so many of an ion's sigma (Huber). */
const CUT = 2;
/** Standard error of such a cut mean against that of the mean of normal values. */
const CUT_LOSS = 1.05;

const value = new Float64Array(512);
const weight = new Float64Array(512);

/** Weighted median, then one step to the cut mean; missing ions stand below all others. */
export function combined(
  row: Float32Array,
  sigma: Float64Array,
  from: number,
  to: number,
): { value: number; error: number } {
  let count = 0;
  let total = 0;
  let missing = 0;
  for (let c = from; c < to; c++) {
    const w = 1 / (sigma[c]! * sigma[c]!);
    total += w;
    if (!Number.isNaN(row[c]!)) {
      value[count] = row[c]!;
      weight[count++] = w;
    } else missing += w;
  }
  if (count < 3 || missing > total / 2) return { value: Number.NaN, error: Number.NaN };
  const middle = weightedMedian(count, missing, total);
  let sum = 0;
  let used = 0;
  let squares = 0;
  for (let c = from; c < to; c++) {
    const s = sigma[c]!;
    const w = 1 / (s * s);
    const off = Number.isNaN(row[c]!) ? -CUT * s : row[c]! - middle;
    const cut = Math.max(-CUT * s, Math.min(CUT * s, off));
    sum += w * cut;
    squares += w * w * cut * cut;
    used += w;
  }
  return { value: middle + sum / used, error: (CUT_LOSS * Math.sqrt(squares)) / used };
}

/** Smallest value whose weight and that of all below it make up half; reorders both arrays. Selection by halves. */
function weightedMedian(count: number, below: number, total: number): number {
  let low = 0;
  let high = count - 1;
  let sum = below;
  while (low < high) {
    const pivot = value[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (value[i]! < pivot) i++;
      while (value[j]! > pivot) j--;
      if (i > j) break;
      const v = value[i]!;
      const w = weight[i]!;
      value[i] = value[j]!;
      weight[i++] = weight[j]!;
      value[j] = v;
      weight[j--] = w;
    }
    // Up to j stand values no larger than the pivot, from i on no smaller ones, between them the pivot itself.
    let left = 0;
    for (let k = low; k <= j; k++) left += weight[k]!;
    if (sum + left >= total / 2) {
      high = j;
      continue;
    }
    sum += left;
    for (let k = j + 1; k < i; k++) sum += weight[k]!;
    if (i - j > 1 && sum >= total / 2) return pivot;
    low = i;
  }
  return value[Math.min(low, count - 1)]!;
}
