/**
 * Periodic changes in an unevenly sampled series: periodograms over windows of several lengths, each line judged against
 * the power around it, so that wandering and scatter that is not white raise the threshold. A line stands when chance
 * would show one as strong less than once in `false_hours`.
 * What it cannot do: a ripple that changes its period by more than one part in its number of periods smears; above half
 * of the scan rate a period is folded, and even scan times cannot tell it from the true one.
 */
import { madSigma, median } from '../numeric/robust.ts';
import { logChance, lombScargle } from './lomb-scargle.ts';

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

/** Lengths of the windows [samples], the longest also standing for the whole of a shorter run. */
const WINDOWS = [96, 384] as const;
const LEAST_SAMPLES = 60;
/** Windows start this often within one length: a ripple barely longer than a window still fills most of one. */
const OVERLAP = 3;
/** Frequencies are this many to one resolution step. */
const OVERSAMPLE = 3;
/**
 * Frequencies up to so many scan rates are searched where the scan times vary by more than UNEVEN of their interval: there
 * a ripple faster than the scans keeps a line of its own. Only in windows of at most FAST_SAMPLES, for the cost.
 */
const FAST_RATES = 3;
const UNEVEN = 0.03;
const FAST_SAMPLES = 96;
/** Of lines nearly as strong the slowest is told. */
const AS_STRONG = 0.95;
/** At least so many periods in a window. */
const LEAST_PERIODS = 6;
/** The power around a line: the median over frequencies so many resolution steps away on both sides. */
const AROUND = { from: 2, to: 10 };
/** Samples are cut at so many sigma: one dropout is no ripple, a sharp drip stays one. */
const CUT_SIGMAS = 3;
const DAY_S = 86_400;
/** A frequency with this share of the line's power cannot be told from it. */
const ALIAS_SHARE = 0.8;
const ALIAS_RATES = 8;

export function ripples(
  time_s: ArrayLike<number>,
  value: ArrayLike<number>,
  false_per_24h: number,
): Ripple[] {
  const n = value.length;
  if (n < LEAST_SAMPLES) return [];
  const found: Ripple[] = [];
  const lengths = WINDOWS.filter((length, k) => k === 0 || length / n < 1.5 || n > WINDOWS[k - 1]!);
  for (const length of lengths) {
    const size = Math.min(length, n);
    const step = Math.max(1, Math.floor(size / OVERLAP));
    for (let from = 0; ; from += step) {
      const first = Math.min(from, n - size);
      const line = strongest(time_s, value, first, first + size, lengths.length, false_per_24h);
      if (line) found.push(line);
      if (first + size >= n) break;
    }
    if (size === n) break;
  }
  return merged(found);
}

function strongest(
  time_s: ArrayLike<number>,
  value: ArrayLike<number>,
  first: number,
  past: number,
  kinds: number,
  allowed: number,
): Ripple | undefined {
  const n = past - first;
  const times = Float64Array.from({ length: n }, (_, i) => time_s[first + i]!);
  const raw = Float64Array.from({ length: n }, (_, i) => value[first + i]!);
  const span_s = times[n - 1]! - times[0]!;
  if (!(span_s > 0)) return undefined;
  const middle = median(raw);
  const sigma = madSigma(raw);
  if (!(sigma > 0)) return undefined;
  const cut = raw.map((x) => Math.max(-CUT_SIGMAS * sigma, Math.min(CUT_SIGMAS * sigma, x - middle)));
  const gaps = Float64Array.from({ length: n - 1 }, (_, i) => times[i + 1]! - times[i]!);
  const interval_s = median(gaps);
  if (!(interval_s > 0)) return undefined;
  const from_Hz = LEAST_PERIODS / span_s;
  const uneven = madSigma(gaps) > UNEVEN * interval_s;
  const to_Hz = uneven && n <= FAST_SAMPLES ? FAST_RATES / interval_s : 0.5 / interval_s;
  const step_Hz = 1 / (OVERSAMPLE * span_s);
  const count = Math.floor((to_Hz - from_Hz) / step_Hz) + 1;
  if (!(count >= 8)) return undefined;
  const { power, amplitude, frequency_Hz } = lombScargle(times, cut, from_Hz, step_Hz, count);
  const excess = power.map((p) => -logChance(p, n));
  // Chance lines in 24 h: independent frequencies of a window, windows in a day, kinds of windows.
  const trials = ((count / OVERSAMPLE) * kinds * DAY_S * OVERLAP) / span_s;
  const white = new Float64Array(count);
  let bestExcess = 0;
  for (let k = 0; k < count; k++) {
    if (excess[k]! <= AS_STRONG * bestExcess) continue;
    white[k] = excess[k]! / Math.max(1, around(excess, k) / Math.LN2);
    bestExcess = Math.max(bestExcess, white[k]!);
  }
  let best = white.findIndex((value) => value > 0 && value >= AS_STRONG * bestExcess);
  while (best >= 0 && best + 1 < count && white[best + 1]! > white[best]!) best++;
  const chance = trials * Math.exp(-bestExcess);
  if (best < 0 || chance > allowed) return undefined;
  return {
    start_s: times[0]!,
    end_s: times[n - 1]!,
    period_s: 1 / frequency_Hz[best]!,
    amplitude: amplitude[best]!,
    false_per_24h: chance,
    aliases_s: aliases(times, cut, frequency_Hz[best]!, power[best]!),
  };
}

function around(excess: Float64Array, k: number): number {
  const values: number[] = [];
  for (let off = AROUND.from * OVERSAMPLE; off <= AROUND.to * OVERSAMPLE; off++) {
    if (k - off >= 0) values.push(excess[k - off]!);
    if (k + off < excess.length) values.push(excess[k + off]!);
  }
  return values.length > 0 ? median(values) : 0;
}

/** Frequencies |k fs ± f| whose own fit is nearly as good. */
function aliases(times: Float64Array, value: Float64Array, frequency_Hz: number, power: number): number[] {
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
function merged(found: Ripple[]): Ripple[] {
  found.sort((a, b) => a.false_per_24h - b.false_per_24h);
  const kept: Ripple[] = [];
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
