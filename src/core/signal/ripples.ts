/**
 * Periodic changes in an unevenly sampled series: periodograms over windows of several lengths at every place, each line
 * judged against the power around it, so that wandering and scatter that is not white raise the threshold. A line stands
 * when chance would show one as strong less than `false_per_24h` times in 24 h; how many independent chances 24 h hold
 * was found by resampling (CHANCES), not by a formula.
 * What it cannot do: a ripple that changes its period by more than one part in its number of periods smears; above half
 * of the scan rate a period is folded, and even scan times cannot tell it from the true one.
 */
import { MAD_TO_SIGMA, madSigma, median } from '../numeric/robust.ts';
import { BLOCK, BlockSums } from './block-sums.ts';
import { lombScargle } from './lomb-scargle.ts';
import { colourOf, strongest, USUAL_SAMPLES } from './ripple-lines.ts';
import { slowMedian } from './running-quantile.ts';

export interface Ripple {
  start_s: number;
  end_s: number;
  period_s: number;
  /** Half of peak to peak, in the unit of the series. */
  amplitude: number;
  false_per_24h: number;
  /** Periods nearly as strong at other frequencies, up to ALIAS_RATES times the scan rate. */
  aliases_s: number[];
}

/**
 * Windows in blocks of 16 samples, and how far apart they start. Short ones find twenty periods of four samples, long
 * ones a slow or weak ripple. A ripple is seen best by the window it fills.
 */
const WINDOWS = {
  short: [
    { blocks: 5, step: 1 },
    { blocks: 7, step: 1 },
    { blocks: 10, step: 2 },
  ],
  long: [
    { blocks: 16, step: 4 },
    { blocks: 24, step: 6 },
  ],
} as const;
type Kind = (typeof WINDOWS)['short' | 'long'][number];
const LEAST_SAMPLES = WINDOWS.short[0].blocks * BLOCK;
const KINDS = WINDOWS.short.length + WINDOWS.long.length;
/** Frequencies are this many to one resolution step of the middle window of each sort. */
const OVERSAMPLE = 3;
const RESOLVED = { short: 7, long: 24 } as const;
/**
 * Frequencies up to so many scan rates are searched where the scan times vary by more than UNEVEN of their interval: there
 * a ripple faster than the scans keeps a line of its own. In short windows only, for the cost.
 */
const FAST_RATES = 3;
const UNEVEN = 0.03;
/**
 * Chances in 24 h for each resolution step of the frequencies searched and each window's length of time, and kind of
 * window: computed from shuffled scatter at the scan times of two tuning runs (windows overlap, hence above one).
 */
const CHANCES = 6;
/** At least so many periods in a window. */
const LEAST_PERIODS = 6;
/** Samples are cut at so many local sigma: one dropout is no ripple, a sharp drip stays one. */
const CUT_SIGMAS = 3;
const CUT_SAMPLES = 97;
/** Short windows lose the running median over so many samples: longer than the slowest period they hold. */
const COURSE_SAMPLES = 41;
const DAY_S = 86_400;
/** A frequency with this share of the line's power cannot be told from it. */
const ALIAS_SHARE = 0.8;
const ALIAS_RATES = 8;
/** Samples worked on at once, for memory; parts overlap by the longest window. */
const PART = 4096;

export interface RippleOptions {
  /** The series went through a filter (steps, jumps): each frequency is held against what the series usually shows there. Default false. */
  filtered?: boolean;
  /** Shortest window. Default 80. */
  least_samples?: number;
}

interface Line extends Omit<Ripple, 'aliases_s'> {
  first: number;
  past: number;
}

export function ripples(
  time_s: ArrayLike<number>,
  value: ArrayLike<number>,
  false_per_24h: number,
  { filtered = false, least_samples = LEAST_SAMPLES }: RippleOptions = {},
): Ripple[] {
  const n = value.length;
  if (n < LEAST_SAMPLES) return [];
  const times = Float64Array.from(time_s);
  const gaps = Float64Array.from({ length: n - 1 }, (_, i) => times[i + 1]! - times[i]!);
  const interval_s = median(gaps);
  const cut = cutSamples(times, value);
  if (!(interval_s > 0) || !cut) return [];
  const uneven = madSigma(gaps) > UNEVEN * interval_s;
  const found: Line[] = [];
  for (const sort of ['short', 'long'] as const) {
    const kinds = WINDOWS[sort].filter(
      ({ blocks }) => blocks * BLOCK <= n && blocks * BLOCK >= least_samples,
    );
    const shortest = kinds[0];
    if (!shortest) continue;
    const step_Hz = 1 / (OVERSAMPLE * RESOLVED[sort] * BLOCK * interval_s);
    const from_Hz = LEAST_PERIODS / (kinds[kinds.length - 1]!.blocks * BLOCK * interval_s);
    const fast = sort === 'short' && uneven;
    const half_Hz = 0.5 / interval_s;
    const to_Hz = fast ? FAST_RATES / interval_s : half_Hz;
    const grid = { from_Hz, step_Hz, count: Math.floor((to_Hz - from_Hz) / step_Hz) + 1 };
    // Periods above two scans are the likelier: they share half of the false alarms among fewer chances.
    const below = (fast ? 2 : 1) * CHANCES * DAY_S * half_Hz * KINDS;
    // The last frequency of a slow search may lie above half the scan rate by rounding.
    const above = fast ? 2 * CHANCES * DAY_S * (to_Hz - half_Hz) * KINDS : below;
    const chances = { half_Hz, below, above };
    // Slow wandering, seen at times that follow a pattern, looks like a fast ripple: short windows go without it.
    const series = sort === 'short' ? withoutCourse(times, cut) : cut;
    const search = {
      times,
      cut: series,
      usual: usualVariance(times, series),
      chances,
      allowed: false_per_24h,
    };
    const overlap = WINDOWS.long[WINDOWS.long.length - 1]!.blocks * BLOCK;
    let sums: BlockSums | undefined;
    for (let first = n % BLOCK; ; first += PART - overlap) {
      const size = Math.min(PART, n - first);
      sums = new BlockSums(times, series, first, size, grid, sums);
      const colour = filtered ? colours(sums, shortest, interval_s) : undefined;
      for (const kind of kinds) inWindows(search, sums, first, kind, found, colour);
      if (first + size >= n) break;
    }
  }
  return merged(found).map(({ first, past, ...line }) => ({
    ...line,
    aliases_s: aliases(times.subarray(first, past), cut.subarray(first, past), 1 / line.period_s),
  }));
}

function withoutCourse(times: Float64Array, value: Float64Array): Float64Array {
  const course = slowMedian(times, value, 0, COURSE_SAMPLES);
  return value.map((x, i) => x - course[i]!);
}

/** Deviations larger than CUT_SIGMAS of the scatter around are cut; undefined for a series without scatter. */
function cutSamples(times: Float64Array, value: ArrayLike<number>): Float64Array | undefined {
  const n = value.length;
  const middle = slowMedian(times, value, 0, CUT_SAMPLES);
  const off = Float64Array.from({ length: n }, (_, i) => Math.abs(value[i]! - middle[i]!));
  const around = slowMedian(times, off, 0, CUT_SAMPLES);
  const whole = MAD_TO_SIGMA * median(off);
  if (!(whole > 0)) return undefined;
  return middle.map((centre, i) => {
    const most = CUT_SIGMAS * MAD_TO_SIGMA * around[i]!;
    return centre + Math.max(-most, Math.min(most, value[i]! - centre));
  });
}

/** Variance of the scatter around each sample, by its middle so that a ripple in a part of it hardly counts. */
function usualVariance(times: Float64Array, value: Float64Array): Float64Array {
  const middle = slowMedian(times, value, 0, USUAL_SAMPLES);
  const off = Float64Array.from(value, (x, i) => Math.abs(x - middle[i]!));
  return slowMedian(times, off, 0, USUAL_SAMPLES).map((half) => (MAD_TO_SIGMA * half) ** 2);
}

interface Search {
  times: Float64Array;
  cut: Float64Array;
  usual: Float64Array;
  /** Independent chances in 24 h at frequencies below and above half the scan rate, and false lines allowed in all. */
  chances: { half_Hz: number; below: number; above: number };
  allowed: number;
}

/** By the shortest windows: they are the most. */
function colours(sums: BlockSums, kind: Kind, interval_s: number): Float64Array | undefined {
  const windows: Float64Array[] = [];
  for (let block = 0; block + kind.blocks <= sums.blocks; block++) {
    const power = new Float64Array(sums.count);
    sums.power(block, block + kind.blocks, 0, power);
    windows.push(power);
  }
  const n = kind.blocks * BLOCK;
  return windows.length > 0 ? colourOf(windows, n, 1 / (n * interval_s * sums.step_Hz)) : undefined;
}

function inWindows(
  search: Search,
  sums: BlockSums,
  offset: number,
  kind: Kind,
  found: Line[],
  colour?: Float64Array,
): void {
  const { times, usual, chances, allowed } = search;
  const n = kind.blocks * BLOCK;
  const needed = Math.log(chances.below / allowed);
  const power = new Float64Array(sums.count);
  for (let block = 0; block + kind.blocks <= sums.blocks; block += kind.step) {
    const first = offset + block * BLOCK;
    const span_s = times[first + n - 1]! - times[first]!;
    if (!(span_s > 0)) continue;
    const from = Math.max(0, Math.ceil((LEAST_PERIODS / span_s - sums.from_Hz) / sums.step_Hz));
    sums.power(block, block + kind.blocks, from, power);
    const noise = { squares: sums.squares(block, block + kind.blocks), usual: usual[first + (n >> 1)]!, n };
    const line = strongest(power, from, noise, needed, 1 / (span_s * sums.step_Hz), colour);
    if (!line) continue;
    const near_Hz = sums.from_Hz + line.at * sums.step_Hz;
    const false_per_24h =
      (near_Hz > chances.half_Hz ? chances.above : chances.below) * Math.exp(-line.excess);
    if (false_per_24h > allowed) continue;
    const fit = finest(search, first, first + n, near_Hz, sums.step_Hz);
    found.push({
      start_s: times[first]!,
      end_s: times[first + n - 1]!,
      ...fit,
      false_per_24h,
      first,
      past: first + n,
    });
  }
}

/** Period and amplitude between the steps of the grid. */
function finest(
  { times, cut }: Search,
  first: number,
  past: number,
  near_Hz: number,
  step_Hz: number,
): { period_s: number; amplitude: number } {
  const fit = lombScargle(
    times.subarray(first, past),
    cut.subarray(first, past),
    near_Hz - step_Hz,
    step_Hz / 4,
    9,
  );
  let best = 0;
  for (let i = 1; i < fit.power.length; i++) if (fit.power[i]! > fit.power[best]!) best = i;
  return { period_s: 1 / fit.frequency_Hz[best]!, amplitude: fit.amplitude[best]! };
}

/** Frequencies |k fs ± f| whose own fit is nearly as good. */
function aliases(times: Float64Array, value: Float64Array, frequency_Hz: number): number[] {
  const power = lombScargle(times, value, frequency_Hz, 1, 1).power[0]!;
  const rate_Hz = (times.length - 1) / (times[times.length - 1]! - times[0]!);
  const width_Hz = 1 / (times[times.length - 1]! - times[0]!);
  const found: number[] = [];
  for (let k = 1; k <= ALIAS_RATES; k++) {
    for (const centre of [Math.abs(k * rate_Hz - frequency_Hz), k * rate_Hz + frequency_Hz]) {
      // Uneven times move an alias a little: the neighbourhood is searched.
      const fit = lombScargle(times, value, centre - 3 * width_Hz, width_Hz / 4, 25);
      let best = 0;
      for (let i = 0; i < fit.power.length; i++) if (fit.power[i]! > fit.power[best]!) best = i;
      const at_Hz = fit.frequency_Hz[best]!;
      if (
        fit.power[best]! >= ALIAS_SHARE * power &&
        at_Hz > 0 &&
        Math.abs(at_Hz - frequency_Hz) > 2 * width_Hz
      ) {
        found.push(1 / at_Hz);
      }
    }
  }
  return found;
}

/** One ripple of the lines that overlap in time and agree in period; the least likely by chance stands for them. */
function merged(found: Line[]): Line[] {
  found.sort((a, b) => a.false_per_24h - b.false_per_24h);
  const kept: Line[] = [];
  for (const line of found) {
    const same = kept.find((other) => other.start_s < line.end_s && line.start_s < other.end_s);
    if (!same) {
      kept.push({ ...line });
      continue;
    }
    // A neighbouring window with the same period makes the stretch longer; another line in the same time is left out.
    if (Math.abs(Math.log(same.period_s / line.period_s)) < PERIOD_AGREES) {
      same.start_s = Math.min(same.start_s, line.start_s);
      same.end_s = Math.max(same.end_s, line.end_s);
    }
  }
  return kept.sort((a, b) => a.start_s - b.start_s);
}

const PERIOD_AGREES = 0.05;
