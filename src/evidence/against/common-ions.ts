/**
 * The ratio of two runs by the ions they share, about its middle. Standing ions: each ion's ln ratio less its own middle,
 * then the middle over the ions in each step, in turn until they fit (median polish: Tukey, 1977, Exploratory Data
 * Analysis, chapter 11, from memory). Passing ions: the ratio of the areas of one passage, put at its time; steps with too
 * few borrow from their neighbours.
 * When it breaks: standing ions that follow the composition of the liquid differ where the gradients do; passing ions
 * also follow the load, which may differ between early and late ones.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
import { eachLikeMz, type IonCurve, type Passing, pairedByMz } from './ions-in-run.ts';
import type { RunTimes } from './run-times.ts';

export interface RatioSeries {
  /** ln ratio about its middle, for each step of this run; NaN for none. */
  log: Float64Array;
  error: Float64Array;
  /** The same from the lower and the upper half of the ions by m/z; empty where there are too few. */
  low: Float64Array;
  high: Float64Array;
  middle: number;
  middle_error: number;
  ions: number;
}

/** Ions in a step without which it has no value. Judgement. */
const LEAST_IONS = 6;
/** Standard error of a median of normal values over that of their mean. */
const MEDIAN_OVER_MEAN = 1.2533;
/** An ion carries the ratio when it stands in both runs in this share of the steps they share. */
export const STANDING_SHARE = 0.5;
const POLISH_ROUNDS = 4;
const LEAST_ERROR = 0.005;

interface Grid {
  start_s: number;
  step_s: number;
  steps: number;
}

/** Undefined where fewer than LEAST_IONS stand in both. */
export function standingRatio(
  ours: readonly IonCurve[],
  theirs: readonly IonCurve[],
  share: number,
  grid: Grid,
  their: Grid,
  times: RunTimes,
): (RatioSeries & { pairs: [IonCurve, IonCurve][] }) | undefined {
  const at = Int32Array.from({ length: grid.steps }, (_, i) => {
    const there = Math.floor(
      (times.there(grid.start_s + (i + 0.5) * grid.step_s) - their.start_s) / their.step_s,
    );
    return there >= 0 && there < their.steps ? there : -1;
  });
  const shared = at.reduce((sum, there) => sum + (there >= 0 ? 1 : 0), 0);
  const rows: Float64Array[] = [];
  const pairs: [IonCurve, IonCurve][] = [];
  for (const [one, other] of pairedByMz(ours, theirs, share)) {
    const row = Float64Array.from(at, (there, i) =>
      there < 0 ? Number.NaN : one.log[i]! - other.log[there]!,
    );
    if (row.reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : 1), 0) < STANDING_SHARE * shared)
      continue;
    rows.push(row);
    pairs.push([one, other]);
  }
  if (rows.length < LEAST_IONS || shared === 0) return undefined;
  const offsets = rows.map((row) => median(known(row)));
  let log: Float64Array = new Float64Array(grid.steps);
  for (let round = 0; round < POLISH_ROUNDS; round++) {
    log = middles(rows, offsets).log;
    rows.forEach((row, k) => {
      offsets[k] = median(known(row.map((value, i) => value - log[i]!)));
    });
  }
  const whole = middles(rows, offsets);
  const half = rows.length >> 1;
  const enough = half >= LEAST_IONS;
  const centre = centred(whole.log);
  return {
    log: centre.log,
    error: whole.error,
    low: enough ? middles(rows.slice(0, half), offsets.slice(0, half)).log : new Float64Array(0),
    high: enough ? middles(rows.slice(half), offsets.slice(half)).log : new Float64Array(0),
    middle: median(offsets) + centre.middle,
    middle_error: errorOfMedian(offsets),
    ions: rows.length,
    pairs,
  };
}

function middles(
  rows: readonly Float64Array[],
  offsets: readonly number[],
): { log: Float64Array; error: Float64Array } {
  const steps = rows[0]!.length;
  const log = new Float64Array(steps).fill(Number.NaN);
  const error = new Float64Array(steps).fill(Number.NaN);
  for (let i = 0; i < steps; i++) {
    const values: number[] = [];
    for (let k = 0; k < rows.length; k++) {
      const value = rows[k]![i]! - offsets[k]!;
      if (!Number.isNaN(value)) values.push(value);
    }
    if (values.length < LEAST_IONS) continue;
    log[i] = median(values);
    error[i] = Math.max(LEAST_ERROR, errorOfMedian(values));
  }
  return { log, error };
}

function errorOfMedian(values: readonly number[]): number {
  return (MEDIAN_OVER_MEAN * madSigma(values)) / Math.sqrt(values.length);
}

/** Steps on each side a thin step may borrow from. */
const MOST_BORROWED = 3;
/** A passage and its partner lie at most so many steps apart once the run times are laid over each other. */
const PARTNER_STEPS = 2;
const LEAST_PASSING = 40;

/** Undefined where too few ions pass in both runs. Both lists rise in m/z. */
export function passingRatio(
  ours: readonly Passing[],
  theirs: readonly Passing[],
  share: number,
  grid: Grid,
  times: RunTimes,
): RatioSeries | undefined {
  const pairs = partners(ours, theirs, share, PARTNER_STEPS * grid.step_s, times);
  if (pairs.length < LEAST_PASSING) return undefined;
  const inStep: { mz: number; log: number }[][] = Array.from({ length: grid.steps }, () => []);
  for (const pair of pairs) inStep[Math.floor((pair.time_s - grid.start_s) / grid.step_s)]?.push(pair);
  const split = median(pairs.map(({ mz }) => mz));
  const log = new Float64Array(grid.steps).fill(Number.NaN);
  const error = new Float64Array(grid.steps).fill(Number.NaN);
  const low = new Float64Array(grid.steps).fill(Number.NaN);
  const high = new Float64Array(grid.steps).fill(Number.NaN);
  for (let i = 0; i < grid.steps; i++) {
    let reach = 0;
    let here = inStep[i]!;
    while (here.length < LEAST_IONS && reach < MOST_BORROWED) {
      reach++;
      here = inStep.slice(Math.max(0, i - reach), i + reach + 1).flat();
    }
    if (here.length < LEAST_IONS) continue;
    const values = here.map((pair) => pair.log);
    log[i] = median(values);
    error[i] = Math.max(LEAST_ERROR, errorOfMedian(values));
    const below = here.filter(({ mz }) => mz <= split).map((pair) => pair.log);
    const above = here.filter(({ mz }) => mz > split).map((pair) => pair.log);
    if (below.length >= LEAST_IONS / 2) low[i] = median(below);
    if (above.length >= LEAST_IONS / 2) high[i] = median(above);
  }
  const centre = centred(log);
  return {
    log: centre.log,
    error,
    low,
    high,
    middle: centre.middle,
    middle_error: errorOfMedian(pairs.map((pair) => pair.log)),
    ions: pairs.length,
  };
}

/** Each passage with the nearest in time of the same m/z in the other run. */
export function partners(
  ours: readonly Passing[],
  theirs: readonly Passing[],
  share: number,
  most_s: number,
  times: RunTimes,
): { mz: number; time_s: number; log: number }[] {
  const pairs: { mz: number; time_s: number; log: number }[] = [];
  eachLikeMz(ours, theirs, share, ({ mz, time_s, area_log }, alike) => {
    const there_s = times.there(time_s);
    let best: Passing | undefined;
    for (const other of alike) {
      const off = Math.abs(other.time_s - there_s);
      if (off <= most_s && !(best && Math.abs(best.time_s - there_s) <= off)) best = other;
    }
    if (best) pairs.push({ mz, time_s, log: area_log - best.area_log });
  });
  return pairs;
}

export function centred(log: Float64Array): { log: Float64Array; middle: number } {
  const values = known(log);
  const middle = values.length > 0 ? median(values) : Number.NaN;
  return { log: log.map((value) => value - middle), middle };
}

export function known(values: Float64Array): Float64Array {
  return values.filter((value) => !Number.isNaN(value));
}
