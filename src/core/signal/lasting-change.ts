/**
 * Is a series flat, and if not, which change does it hold: a step, a slow change from some moment to the end, or a long
 * stretch at another level? The sum of the deviations from the mean, over their long-run scatter, is a Brownian bridge
 * where nothing changes: its largest size is exceeded with Kolmogorov's chance (Ploberger and Krämer, 1992, Econometrica
 * 60:271, OLS-based CUSUM), its range, which a stretch widens, with Kuiper's (1960, Proc Kon Ned Akad Wet A 63:38; both from
 * memory). The long-run scatter is that about the shape that fits best, so that the change itself is not taken for scatter
 * and slow wandering is. Worked numbers: 1.358 and 1.747 are exceeded by chance in 5 %.
 * When it breaks: fewer than twelve samples; wandering slower than a few blocks passes for a change, and only its size
 * tells it from one, so the caller sets a least size.
 */
import { madSigma, median } from '../numeric/robust.ts';
import { bestShape, type ChangeShape } from './change-shapes.ts';

export interface LastingChange extends ChangeShape {
  /** How often a flat series of this scatter would show as much. */
  chance: number;
}

export interface FlatReading {
  change?: LastingChange;
  /** Scatter of the means of blocks about the fit: what the series wanders by. */
  wander: number;
}

export interface FlatOptions {
  /** Samples of a block: as long as wandering lasts. */
  block: number;
}

const LEAST_SAMPLES = 12;
const LEAST_WANDER = 1e-3;

/** Samples are finite and evenly spaced; where some are missing their neighbours stand beside each other. */
export function lastingChange(values: ArrayLike<number>, { block }: FlatOptions): FlatReading {
  const n = values.length;
  if (n < LEAST_SAMPLES) return { wander: Number.NaN };
  const best = bestShape(Float64Array.from(values));
  const left = Float64Array.from(best.course, (fitted, i) => values[i]! - fitted);
  const middle = median(left);
  const rest = left.map((value) => value - middle);
  const wander = Math.max(LEAST_WANDER, blockScatter(rest, block));
  const long_run = Math.max(wander * Math.sqrt(Math.min(block, n)), remembered(rest), quickScatter(rest));
  const { most, range } = sums(values);
  const unit = long_run * Math.sqrt(n);
  const chance = best.shape === 'stretch' ? kuiperChance(range / unit) : kolmogorovChance(most / unit);
  return { change: { ...best, chance }, wander };
}

/** Chance that the largest size of a Brownian bridge exceeds `x`. */
export function kolmogorovChance(x: number): number {
  if (!(x > 0)) return 1;
  // The series converges slowly for small sizes, whose chance is 1 to ten digits.
  if (x < SURE_BELOW) return 1;
  let sum = 0;
  for (let k = 1; k <= TERMS; k++) sum += (k % 2 === 1 ? 2 : -2) * Math.exp(-2 * k * k * x * x);
  return Math.min(1, Math.max(0, sum));
}

const SURE_BELOW = 0.25;
const TERMS = 60;

/** Chance that the range of a Brownian bridge exceeds `x`. */
export function kuiperChance(x: number): number {
  if (!(x > SURE_BELOW)) return 1;
  let sum = 0;
  for (let k = 1; k <= TERMS; k++) sum += 2 * (4 * k * k * x * x - 1) * Math.exp(-2 * k * k * x * x);
  return Math.min(1, Math.max(0, sum));
}

/** Of the sums of deviations from the mean, up to each sample: the largest size, and highest less lowest. */
function sums(values: ArrayLike<number>): { most: number; range: number } {
  let mean = 0;
  for (let i = 0; i < values.length; i++) mean += values[i]! / values.length;
  let sum = 0;
  let low = 0;
  let high = 0;
  for (let i = 0; i < values.length; i++) {
    sum += values[i]! - mean;
    low = Math.min(low, sum);
    high = Math.max(high, sum);
  }
  return { most: Math.max(high, -low), range: high - low };
}

/**
 * Long-run scatter of samples that remember the one before (autoregression of order one): sigma sqrt((1 + r)/(1 - r)), r
 * put right for short series by (1 + 4 r)/n (Marriott and Pope, 1954, Biometrika 41:390, from memory) and for the shape
 * that was fitted.
 */
function remembered(values: Float64Array): number {
  const n = values.length;
  const sigma = madSigma(values);
  const most = CUT * sigma;
  const cut = values.map((value) => Math.max(-most, Math.min(most, value)));
  let products = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    squares += cut[i]! * cut[i]!;
    if (i > 0) products += cut[i]! * cut[i - 1]!;
  }
  if (!(squares > 0)) return 0;
  const plain = products / squares;
  const r = Math.max(0, Math.min(MOST_MEMORY, plain + (FITTED * (1 + 4 * plain)) / n));
  return Math.max(sigma, Math.sqrt(squares / n)) * Math.sqrt((1 + r) / (1 - r));
}

const CUT = 3;
/** A series that remembers more is a wandering one: nothing in it is a change. */
const MOST_MEMORY = 0.9;
/** A fitted shape takes out several times what a mean does: chosen by simulation, whose bounds stand in the test. */
const FITTED = 6;

/** From sample to sample, without what changes slowly. */
function quickScatter(values: Float64Array): number {
  const steps = Float64Array.from({ length: values.length - 1 }, (_, i) => values[i + 1]! - values[i]!);
  return madSigma(steps) / Math.SQRT2;
}

/** Scatter of block means, blocks taken half overlapping so that their border does not matter. */
function blockScatter(values: Float64Array, block: number): number {
  const size = Math.min(block, Math.floor(values.length / 4));
  const means: number[] = [];
  for (let from = 0; from + size <= values.length; from += Math.max(1, size >> 1)) {
    let sum = 0;
    for (let i = from; i < from + size; i++) sum += values[i]!;
    means.push(sum / size);
  }
  return madSigma(means);
}
