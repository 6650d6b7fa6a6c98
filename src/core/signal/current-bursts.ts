/**
 * Bursts and levels in one window, both from stretches of equal length: the scatter inside each tells quiet from busy, the means
 * tell levels that the current hops between. A stretch holds several pulses where pulses are known, so that a regular train is
 * busy throughout. Windows with fewer than LEAST_STRETCHES stretches tell nothing.
 */
import type { Bursts, Levels } from './current-window.ts';

const STRETCHES = 96;
const LEAST_STRETCHES = 24;
const PULSES_PER_STRETCH = 4;
const LEAST_SAMPLES = 6;

export interface Stretches {
  samples: number;
  mean: Float64Array;
  scatter: Float64Array;
}

/** `period` in samples: of pulses where they are known, else 0. */
export function stretchesOf(samples: Float64Array, count: number, period: number): Stretches | null {
  const size = Math.max(LEAST_SAMPLES, Math.floor(count / STRETCHES), Math.ceil(PULSES_PER_STRETCH * period));
  const pieces = Math.floor(count / size);
  if (pieces < LEAST_STRETCHES) return null;
  const mean = new Float64Array(pieces);
  const scatter = new Float64Array(pieces);
  for (let p = 0; p < pieces; p++) {
    let sum = 0;
    let squares = 0;
    const from = p * size;
    for (let k = from; k < from + size; k++) sum += samples[k]!;
    const m = sum / size;
    for (let k = from; k < from + size; k++) squares += (samples[k]! - m) ** 2;
    mean[p] = m;
    scatter[p] = Math.sqrt(squares / (size - 1));
  }
  return { samples: size, mean, scatter };
}

/** Busy over quiet must reach this, and each must fill a tenth of the window. */
const LEAST_CONTRAST = 3;
const LEAST_SHARE = 0.08;

/** The white scatter of a quiet stretch is `white`: what is busy must stand clear of it. */
export function burstsOf({ scatter }: Stretches, white: number): Bursts | null {
  const sorted = scatter.slice().sort();
  const high = sorted[Math.floor(0.92 * (sorted.length - 1))]!;
  const low = Math.max(sorted[Math.floor(0.08 * (sorted.length - 1))]!, 0.5 * white, 1e-300);
  const contrast = high / low;
  if (!(contrast > LEAST_CONTRAST) || high < 3 * white) return null;
  const up = Math.sqrt(low * high) * 1.25;
  const down = Math.sqrt(low * high) / 1.25;
  let busy = scatter[0]! > Math.sqrt(low * high);
  let changes = 0;
  let quiet = 0;
  for (const s of scatter) {
    if (busy ? s < down : s > up) {
      busy = !busy;
      changes++;
    }
    if (!busy) quiet++;
  }
  const share = quiet / scatter.length;
  if (share < LEAST_SHARE || share > 1 - LEAST_SHARE / 2 || changes < 2) return null;
  return { quiet: share, changes, contrast };
}

/** Distance of two levels over the scatter inside them. */
const LEAST_APART = 5;

export function levelsOf({ mean, samples }: Stretches, rate_Hz: number): Levels | null {
  const n = mean.length;
  const sorted = mean.slice().sort();
  // The cut with the least scatter on both its sides.
  const sums = new Float64Array(n + 1);
  const squares = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    sums[k + 1] = sums[k]! + sorted[k]!;
    squares[k + 1] = squares[k]! + sorted[k]! ** 2;
  }
  const least = Math.max(3, Math.floor(n * LEAST_SHARE));
  let cut = -1;
  let best = Number.POSITIVE_INFINITY;
  for (let k = least; k <= n - least; k++) {
    const left = squares[k]! - sums[k]! ** 2 / k;
    const right = squares[n]! - squares[k]! - (sums[n]! - sums[k]!) ** 2 / (n - k);
    if (left + right < best) {
      best = left + right;
      cut = k;
    }
  }
  if (cut < 0) return null;
  // Medians and quartiles: stretches that hold a change belong to neither level.
  const middle = (from: number, to: number) => sorted[(from + to) >> 1]!;
  const low = middle(0, cut - 1);
  const high = middle(cut, n - 1);
  const spread = (from: number, to: number) =>
    (sorted[from + Math.floor(0.75 * (to - from))]! - sorted[from + Math.floor(0.25 * (to - from))]!) / 1.35;
  const inside = Math.max(spread(0, cut - 1), spread(cut, n - 1), 1e-300);
  const apart = (high - low) / inside;
  if (!(apart > LEAST_APART)) return null;
  const edge = (low + high) / 2;
  let changes = 0;
  let between = 0;
  for (let k = 0; k < n; k++) {
    if (k > 0 && mean[k - 1]! > edge !== mean[k]! > edge) changes++;
    if (mean[k]! > low + 0.25 * (high - low) && mean[k]! < low + 0.75 * (high - low)) between++;
  }
  return {
    low,
    high,
    apart,
    share_high: (n - cut) / n,
    changes,
    stretch_s: ((1 + between / Math.max(1, changes)) * samples) / rate_Hz,
  };
}
