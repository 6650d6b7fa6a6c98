/**
 * Which simple change fits a series best: a step, a straight line from some moment to the end, or a stretch at another
 * level, each by medians and the least sum of the sizes of what is left, so that a few wild samples decide nothing.
 * Cost: samples times places, of which there are some hundred. When it breaks: several changes at once are one of another shape.
 */
import { madSigma, median } from '../numeric/robust.ts';

export interface ChangeShape {
  shape: 'step' | 'slow' | 'stretch';
  /** First changed sample, and the first after it that is no longer. */
  at: number;
  past: number;
  /** Full change as a log: of a step or stretch, or reached at the end. */
  size_log: number;
  /** Fitted course of the change, 0 outside it. */
  course: Float64Array;
}

/** A change has to leave so many samples on each side. */
export const LEAST_SIDE = 5;
/** A slow change takes at least so many samples; what is quicker is a step. */
const SLOW_LEAST = 10;
/** The simpler of two shapes is kept unless the other leaves this share less. Judgement. */
const SLOW_LEAVES = 0.98;
const STRETCH_LEAVES = 0.93;
/** Places of a step or a turning point tried before those around the best. */
const MOST_PLACES = 240;
/** Edges of a stretch are sought at so many places first, then around the best. */
const EDGES = 40;

export function bestShape(values: Float64Array): ChangeShape {
  let best = steps(values);
  const slow = slowChanges(values);
  if (slow && slow.cost < SLOW_LEAVES * best.cost) best = slow;
  const stretch = stretches(values);
  if (stretch && stretch.cost < STRETCH_LEAVES * best.cost) best = stretch;
  const { shape, at, past, size } = best;
  const course = Float64Array.from(values, (_, i) =>
    i < at || i >= past ? 0 : shape === 'slow' ? (size * (i - at + 0.5)) / (values.length - at) : size,
  );
  return { shape, at, past, size_log: size, course };
}

interface Fit {
  shape: ChangeShape['shape'];
  cost: number;
  at: number;
  past: number;
  size: number;
}

function steps(values: Float64Array): Fit {
  const n = values.length;
  return sought(LEAST_SIDE, n - LEAST_SIDE, (at) => {
    const base = median(values.subarray(0, at));
    const level = median(values.subarray(at));
    const cost = offBy(values, 0, at, base) + offBy(values, at, n, level);
    return { shape: 'step', cost, at, past: n, size: level - base };
  });
}

function slowChanges(values: Float64Array): Fit | undefined {
  const n = values.length;
  if (n < LEAST_SIDE + SLOW_LEAST) return undefined;
  return sought(LEAST_SIDE, n - SLOW_LEAST, (at) => {
    const base = median(values.subarray(0, at));
    const slope = slopeFrom(values, at, base);
    let cost = offBy(values, 0, at, base);
    for (let i = at; i < n; i++) cost += Math.abs(values[i]! - base - slope * (i - at + 0.5));
    return { shape: 'slow', cost, at, past: n, size: slope * (n - at) };
  });
}

/** The cheapest fit of all places from `first` to `last`; of many at some first, then around the best. */
function sought(first: number, last: number, fitAt: (at: number) => Fit): Fit {
  const stride = Math.max(1, Math.ceil((last - first) / MOST_PLACES));
  let best = fitAt(first);
  const attempt = (at: number): void => {
    const fit = fitAt(at);
    if (fit.cost < best.cost) best = fit;
  };
  for (let at = first + stride; at <= last; at += stride) attempt(at);
  const middle = best.at;
  if (stride > 1)
    for (let at = Math.max(first, middle - stride + 1); at < Math.min(last + 1, middle + stride); at++)
      attempt(at);
  return best;
}

function stretches(values: Float64Array): Fit | undefined {
  const n = values.length;
  const stride = Math.max(1, Math.ceil(n / EDGES));
  let best: Fit | undefined;
  const attempt = (at: number, past: number): void => {
    if (at < LEAST_SIDE || past > n - LEAST_SIDE || past - at < LEAST_SIDE) return;
    outside.set(values.subarray(0, at));
    outside.set(values.subarray(past), at);
    const base = median(outside.subarray(0, n - (past - at)));
    const level = median(values.subarray(at, past));
    const cost = offBy(values, 0, at, base) + offBy(values, at, past, level) + offBy(values, past, n, base);
    if (!best || cost < best.cost) best = { shape: 'stretch', cost, at, past, size: level - base };
  };
  const outside = new Float64Array(n);
  for (let at = LEAST_SIDE; at < n; at += stride)
    for (let past = at + LEAST_SIDE; past <= n - LEAST_SIDE; past += stride) attempt(at, past);
  if (!best) return undefined;
  const { at, past } = best;
  for (let i = at - stride; i <= at + stride; i++) attempt(i, past);
  const first = (best as Fit).at;
  for (let k = past - stride; k <= past + stride; k++) attempt(first, k);
  return best;
}

function offBy(values: Float64Array, from: number, past: number, level: number): number {
  let sum = 0;
  for (let i = from; i < past; i++) sum += Math.abs(values[i]! - level);
  return sum;
}

/** Least squares through the turning point, deviations cut at three of their scatter. */
function slopeFrom(values: Float64Array, at: number, base: number): number {
  let slope = 0;
  let cut = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    let above = 0;
    let below = 0;
    for (let i = at; i < values.length; i++) {
      const t = i - at + 0.5;
      const off = Math.max(-cut, Math.min(cut, values[i]! - base - slope * t));
      above += t * (slope * t + off);
      below += t * t;
    }
    slope = above / below;
    const rest = Float64Array.from(
      { length: values.length - at },
      (_, k) => values[at + k]! - base - slope * (k + 0.5),
    );
    cut = CUT * madSigma(rest);
    if (!(cut > 0)) break;
  }
  return slope;
}

const ROUNDS = 3;
const CUT = 3;
