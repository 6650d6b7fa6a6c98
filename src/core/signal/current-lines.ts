/**
 * Lines of a spectrum: bins above the median of their neighbourhood by a factor that noise reaches once in some thousand windows,
 * joined to families (fundamental and harmonics). A mean of K periodograms of noise scatters by 1/sqrt(K) of itself. Mains is the family of
 * 50 or 60 Hz and is taken out first. Breaks for lines wider than a quarter of their frequency: they are floor, not lines.
 */
import type { Comb } from './current-window.ts';

export interface LineSearch {
  /** Density [units²/Hz], bins of `step_Hz` from 0. */
  density: Float64Array;
  step_Hz: number;
  /** Periodograms that were averaged. */
  averaged: number;
  variance: number;
  /** Frequencies of mains are passed over. */
  passed: (frequency: number) => boolean;
}

const HARMONICS = 12;
/** A weaker line below the strongest is its fundamental from this share on; weaker ones are harmonics folded at half the rate. */
const LEAST_FUNDAMENTAL = 0.15;

export function strongestComb(search: LineSearch): Comb | null {
  const { density, step_Hz, variance, passed } = search;
  const bins = density.length;
  if (bins < 16 || !(variance > 0)) return null;
  const floor = floorOf(density);
  // Gamma tail: the largest of a thousand means of K periodograms stays below this.
  const needed = 1 + 6 / Math.sqrt(search.averaged) + 8 / search.averaged;
  let at = -1;
  let most = 0;
  for (let k = 2; k < bins - 1; k++) {
    const x = density[k]!;
    if (x <= most || x < needed * floor[k]!) continue;
    if (x < density[k - 1]! || x < density[k + 1]!) continue;
    if (passed(k * step_Hz)) continue;
    at = k;
    most = x;
  }
  if (at < 0) return null;
  const clearest = most / floor[at]!;
  at = fundamentalOf(density, floor, at, needed, search);
  const first = lineAt(density, floor, at, step_Hz);
  let power = first.power;
  let harmonics = 1;
  for (let h = 2; h <= HARMONICS; h++) {
    const centre = (first.frequency_Hz * h) / step_Hz;
    if (centre > bins - 3) break;
    const reach = Math.max(2, Math.round(0.02 * centre));
    let best = -1;
    for (
      let k = Math.max(2, Math.round(centre) - reach);
      k <= Math.min(bins - 2, Math.round(centre) + reach);
      k++
    )
      if (density[k]! > 2 * floor[k]! && (best < 0 || density[k]! > density[best]!)) best = k;
    if (best < 0) continue;
    power += lineAt(density, floor, best, step_Hz).power;
    if (density[best]! > needed * floor[best]!) harmonics++;
  }
  return {
    frequency_Hz: first.frequency_Hz,
    power,
    share: Math.min(1, power / variance),
    over_floor: clearest,
    width: first.width_Hz / first.frequency_Hz,
    harmonics,
  };
}

/** Where the strongest line is itself a harmonic of a weaker one that stands clear. */
function fundamentalOf(
  density: Float64Array,
  floor: Float64Array,
  at: number,
  needed: number,
  search: LineSearch,
): number {
  let found = at;
  for (const part of [2, 3, 4]) {
    const k0 = Math.round(at / part);
    if (k0 < 3) break;
    for (let k = k0 - 1; k <= k0 + 1; k++) {
      if (search.passed(k * search.step_Hz)) continue;
      const peak = density[k]! >= density[k - 1]! && density[k]! >= density[k + 1]!;
      if (peak && density[k]! > needed * floor[k]! && density[k]! > LEAST_FUNDAMENTAL * density[at]!)
        found = k;
    }
  }
  return found;
}

function lineAt(density: Float64Array, floor: Float64Array, at: number, step_Hz: number) {
  let power = 0;
  let weighed = 0;
  let from = at;
  let to = at;
  // The main lobe of the window is two bins either way; a jittered line goes on while it stands above its floor.
  const reach = Math.max(2, Math.round(0.12 * at));
  while (from > 1 && at - from < reach && (at - from < 2 || density[from - 1]! > 2.5 * floor[from - 1]!))
    from--;
  while (
    to < density.length - 2 &&
    to - at < reach &&
    (to - at < 2 || density[to + 1]! > 2.5 * floor[to + 1]!)
  )
    to++;
  let wide = 0;
  for (let k = from; k <= to; k++) {
    const above = Math.max(0, density[k]! - floor[k]!);
    power += above;
    weighed += above * k;
    if (density[k]! > 0.2 * density[at]!) wide++;
  }
  return {
    power: power * step_Hz,
    frequency_Hz: (power > 0 ? weighed / power : at) * step_Hz,
    width_Hz: wide * step_Hz,
  };
}

/** Bins of a neighbourhood that are looked at. */
const LOOKED_AT = 49;

/** Median over a neighbourhood that grows with frequency, at anchors, straight in between. */
export function floorOf(density: Float64Array): Float64Array {
  const bins = density.length;
  const floor = new Float64Array(bins);
  const part = new Float64Array(LOOKED_AT);
  let left = 2;
  let leftValue = around(density, left, part);
  floor.fill(leftValue, 0, left + 1);
  while (left < bins - 1) {
    const right = Math.min(bins - 1, Math.max(left + 3, Math.ceil(left * 1.15)));
    const rightValue = around(density, right, part);
    for (let k = left + 1; k <= right; k++)
      floor[k] = leftValue + ((k - left) / (right - left)) * (rightValue - leftValue);
    left = right;
    leftValue = rightValue;
  }
  return floor;
}

function around(density: Float64Array, at: number, part: Float64Array): number {
  const reach = Math.max(8, Math.round(at * 0.3));
  const from = Math.max(1, at - reach);
  const to = Math.min(density.length, at + reach + 1);
  const stride = Math.max(1, Math.ceil((to - from) / LOOKED_AT));
  let count = 0;
  for (let k = from; k < to; k += stride) part[count++] = density[k]!;
  const sorted = part.subarray(0, count).sort();
  // A little below the middle: harmonics take some of the bins.
  return Math.max(1e-300, sorted[Math.floor(count * 0.45)]!);
}
