/** Percentiles of draws by linear interpolation between order statistics (type 7); Infinity sorts last and stays. */
export function percentile(values: ArrayLike<number>, share: number): number {
  return percentileOfSorted(Float64Array.from(values).sort(), share);
}

export interface Spread {
  low: number;
  middle: number;
  high: number;
}

/** The 10th, 50th and 90th percentile. */
export function spreadOf(values: ArrayLike<number>): Spread {
  const sorted = Float64Array.from(values).sort();
  return {
    low: percentileOfSorted(sorted, 0.1),
    middle: percentileOfSorted(sorted, 0.5),
    high: percentileOfSorted(sorted, 0.9),
  };
}

function percentileOfSorted(sorted: Float64Array, share: number): number {
  const x = share * (sorted.length - 1);
  const k = Math.min(sorted.length - 1, Math.floor(x));
  const low = sorted[k]!;
  const high = sorted[Math.min(sorted.length - 1, k + 1)]!;
  return x === k || low === high ? low : low + (high - low) * (x - k);
}
