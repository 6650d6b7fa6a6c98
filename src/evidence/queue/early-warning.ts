/**
 * Early warning for one emitter over a queue. The rule: the first `baseline` files (10) set the usual value and spread of
 * ln(scatter) and ln(injection time), robustly. Each later file gives z = (x - usual) / spread, held within ±4 so that one
 * odd file cannot alarm alone, and an exponentially weighted mean e = 0.7 e + 0.3 z. e above its limit is an alarm: the
 * scatter or the injection time keeps rising against the emitter's own beginning.
 * The limit comes from a seeded simulation of the whole rule, baseline estimated anew each time, so that of 20 sound
 * queues of 100 further files one alarms (both charts together). Exponentially weighted means: Roberts, 1959,
 * Technometrics 1:239 (from memory); weight, hold and baseline length are judgement.
 * Breaks when files are not alike by design (blanks among samples widen the spread, which makes it slow, not false) and
 * when neighbours resemble each other (then false alarms are more frequent than stated).
 */
import { madSigma, median, quantile } from '../../core/numeric/robust.ts';
import { randomStream } from '../../core/random.ts';

export const BASELINE_FILES = 10;
/** Fewer files give no spread worth the name. */
export const BASELINE_LEAST = 6;
export const HORIZON_FILES = 100;
export const FALSE_ALARM_SHARE = 0.05;
const WEIGHT = 0.3;
const HOLD = 4;
/** Two runs of one method hardly agree better than this [ln]. Judgement. */
const SPREAD_LEAST = 0.05;
/** Mean of |difference of neighbours| times this is the standard deviation of a normal series: sqrt(pi) / 2. */
const NEIGHBOUR_TO_SIGMA = 0.886227;
/** Simulated queues: the share of false alarms is then known to half a percent. */
const SIMULATIONS = 4000;

export interface WarningChart {
  quantity: 'scatter' | 'injection time';
  /** Files that set the usual value, as indices into the series given. */
  baseline: number[];
  usual: number;
  /** Spread of the logarithm over the baseline files. */
  spread_log: number;
  limit: number;
  /** Weighted mean per file; null for baseline files and where the file gives no value. */
  e: (number | null)[];
  /** First file above the limit. */
  alarm: number | null;
}

/** `values` in queue order; null where a file gives none. `limit` from `warningLimit`. Undefined while there are too few. */
export function warningChart(
  quantity: WarningChart['quantity'],
  values: readonly (number | null)[],
  limit: number,
  baseline_files: number,
): WarningChart | undefined {
  const usable = values.flatMap((value, i) => (value !== null && value > 0 ? [i] : []));
  const baseline = usable.slice(0, baseline_files);
  if (baseline.length < baseline_files) return undefined;
  const { usual, spread } = usualOf(baseline.map((i) => Math.log(values[i]!)));
  const held = Math.max(spread, SPREAD_LEAST);
  const e: (number | null)[] = values.map(() => null);
  let mean = 0;
  let alarm: number | null = null;
  for (const i of usable.slice(baseline_files)) {
    mean = step(mean, (Math.log(values[i]!) - usual) / held);
    e[i] = mean;
    if (mean > limit && alarm === null) alarm = i;
  }
  return { quantity, baseline, usual: Math.exp(usual), spread_log: held, limit, e, alarm };
}

const known = new Map<string, number>();

/** The limit that `charts` independent charts together cross in FALSE_ALARM_SHARE of sound queues. */
export function warningLimit(baseline_files: number, charts: number, seed = 1): number {
  const key = `${baseline_files} ${charts} ${seed}`;
  const found = known.get(key);
  if (found !== undefined) return found;
  const draw = randomStream(seed, 'early warning limit');
  const highest = Float64Array.from({ length: SIMULATIONS }, () =>
    highestOf(() => draw.normal(), baseline_files, HORIZON_FILES),
  );
  // Two charts are independent on sound data: each may alarm in 1 - sqrt(1 - share).
  const limit = quantile(highest, (1 - FALSE_ALARM_SHARE) ** (1 / charts));
  known.set(key, limit);
  return limit;
}

/** Highest weighted mean of one simulated sound queue. */
export function highestOf(draw: () => number, baseline_files: number, horizon: number): number {
  const { usual, spread } = usualOf(Array.from({ length: baseline_files }, draw));
  let mean = 0;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < horizon; i++) {
    mean = step(mean, (draw() - usual) / spread);
    highest = Math.max(highest, mean);
  }
  return highest;
}

function step(mean: number, z: number): number {
  return (1 - WEIGHT) * mean + WEIGHT * Math.max(-HOLD, Math.min(HOLD, z));
}

/** Median, and the larger of two spreads: about the median, and between neighbours (blind to a slow drift). */
function usualOf(logs: readonly number[]): { usual: number; spread: number } {
  let jumps = 0;
  for (let i = 1; i < logs.length; i++) jumps += Math.abs(logs[i]! - logs[i - 1]!);
  const neighbours = (NEIGHBOUR_TO_SIGMA * jumps) / (logs.length - 1);
  return { usual: median(logs), spread: Math.max(madSigma(logs), neighbours) };
}
