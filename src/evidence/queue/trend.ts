/**
 * Trends over the files of a queue: slope by the median of all pairwise slopes (Theil, 1950; Sen, 1968, J Am Stat Assoc
 * 63:1379), significance by Kendall's test with ties (Mann, 1945, Econometrica 13:245); both from memory. Values that are
 * positive by nature are taken in logarithms. Neighbouring files that resemble each other make p too small.
 */
import { median } from '../../core/numeric/robust.ts';
import { percentText } from '../words.ts';

export interface Trend {
  quantity: string;
  unit: string;
  values: (number | null)[];
  files: number;
  /** Change from the first to the last file along the median slope: a share of the value for logarithms, else absolute. */
  change: number | null;
  /** Two-sided; null below TREND_LEAST files. */
  p: number | null;
  sentence: string;
}

export const TREND_LEAST = 8;
/** A trend is told from this p on: one in a hundred by chance. */
export const TREND_TOLD = 0.01;

export function trend(
  quantity: string,
  unit: string,
  values: readonly (number | null)[],
  scale: 'log' | 'linear',
): Trend {
  const at: number[] = [];
  const y: number[] = [];
  values.forEach((value, i) => {
    if (value === null || (scale === 'log' && !(value > 0))) return;
    at.push(i);
    y.push(scale === 'log' ? Math.log(value) : value);
  });
  const base = { quantity, unit, values: [...values], files: y.length };
  if (y.length === 0) return { ...base, change: null, p: null, sentence: `${quantity}: no file tells.` };
  if (y.length < TREND_LEAST) {
    return {
      ...base,
      change: null,
      p: null,
      sentence: `${quantity}: ${y.length} files are too few for a trend (at least ${TREND_LEAST}).`,
    };
  }
  const { slope, p } = kendall(at, y);
  const total = slope * (at.at(-1)! - at[0]!);
  const change = scale === 'log' ? Math.exp(total) - 1 : total;
  const amount =
    scale === 'log'
      ? `${change >= 0 ? 'rises' : 'falls'} by ${percentText(Math.abs(change))}`
      : `${change >= 0 ? 'rises' : 'falls'} by ${percentText(Math.abs(change))} of the run`;
  const sentence =
    p < TREND_TOLD
      ? `${quantity} ${amount} over ${y.length} files (p ${pText(p)}).`
      : `${quantity}: no trend over ${y.length} files (p ${pText(p)}).`;
  return { ...base, change, p, sentence };
}

/** Median slope and two-sided p of Kendall's test by its normal approximation, ties counted. */
export function kendall(x: readonly number[], y: readonly number[]): { slope: number; p: number } {
  const n = y.length;
  const slopes: number[] = [];
  let s = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
      s += Math.sign(y[j]! - y[i]!);
    }
  }
  const counts = new Map<number, number>();
  for (const value of y) counts.set(value, (counts.get(value) ?? 0) + 1);
  let variance = n * (n - 1) * (2 * n + 5);
  for (const t of counts.values()) variance -= t * (t - 1) * (2 * t + 5);
  variance /= 18;
  if (!(variance > 0)) return { slope: median(slopes), p: 1 };
  const z = Math.max(0, Math.abs(s) - 1) / Math.sqrt(variance);
  return { slope: median(slopes), p: Math.min(1, 2 * upperTail(z)) };
}

/** Upper tail of the normal distribution, absolute error below 1e-7 (Abramowitz and Stegun 26.2.17, from memory). */
function upperTail(z: number): number {
  const t = 1 / (1 + 0.2316419 * z);
  const series =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series;
}

export function pText(p: number): string {
  return p < 0.001 ? 'below 0.001' : p.toFixed(3);
}
