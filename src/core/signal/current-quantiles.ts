/**
 * Quantiles of a window without sorting: counts in BINS bins between its lowest and highest sample, drawn out linearly inside a
 * bin, so the error is at most a bin. Where a few spikes stretch the range and the middle half fills too few bins, the counts are
 * taken again over the middle alone.
 */
const BINS = 2048;
/** The middle half must cover so many bins to be told well. */
const ENOUGH = 64;
const MOST_ROUNDS = 3;
const SHARES = [
  ['q01', 0.01],
  ['q05', 0.05],
  ['q25', 0.25],
  ['q50', 0.5],
  ['q75', 0.75],
  ['q95', 0.95],
  ['q99', 0.99],
] as const;

export interface Quantiles {
  q01: number;
  q05: number;
  q25: number;
  q50: number;
  q75: number;
  q95: number;
  q99: number;
}

export interface QuantileFinder {
  /** Samples must hold no NaN; `low` and `high` are their lowest and highest. */
  find(samples: Float64Array, count: number, low: number, high: number): Quantiles;
}

export function quantileFinder(): QuantileFinder {
  const counts = new Uint32Array(BINS);

  function tally(samples: Float64Array, count: number, low: number, high: number): void {
    counts.fill(0);
    const scale = (BINS - 1e-6) / (high - low);
    const top = BINS - 1;
    for (let k = 0; k < count; k++) {
      const at = ((samples[k]! - low) * scale) | 0;
      counts[Math.min(top, Math.max(0, at))]!++;
    }
  }

  function at(rank: number, low: number, width: number): number {
    let seen = 0;
    for (let bin = 0; bin < BINS; bin++) {
      const here = counts[bin]!;
      if (seen + here > rank) return low + width * (bin + (rank - seen + 0.5) / here);
      seen += here;
    }
    return low + width * BINS;
  }

  return {
    find(samples, count, low, high) {
      if (!(high > low)) return { q01: low, q05: low, q25: low, q50: low, q75: low, q95: low, q99: low };
      const of = (share: number, from: number, width: number) => at(share * (count - 1), from, width);
      tally(samples, count, low, high);
      let width = (high - low) / BINS;
      const q = Object.fromEntries(
        SHARES.map(([name, share]) => [name, of(share, low, width)]),
      ) as unknown as Quantiles;
      for (let round = 0; round < MOST_ROUNDS && q.q75 - q.q25 < ENOUGH * width; round++) {
        const reach = 4 * Math.max(q.q75 - q.q25, 2 * width);
        const from = Math.max(low, q.q25 - reach);
        const to = Math.min(high, q.q75 + reach);
        const fine = (to - from) / BINS;
        if (!(fine > 0) || fine > width / 2) break;
        tally(samples, count, from, to);
        for (const [name, share] of SHARES) {
          // The end bins hold all that lies outside: ranks in them keep their first answer.
          const rank = share * (count - 1);
          if (rank >= counts[0]! && rank < count - counts[BINS - 1]!) q[name] = of(share, from, fine);
        }
        width = fine;
      }
      return q;
    },
  };
}
