/**
 * Falls and bursts of the spray told from elution: found in the background ions where they stand, else in the course of
 * the matched peaks; each then asked whether the ions of low and high m/z and the total level took part. The confidences
 * are judgement, set on runs with planted faults, the reported ones among them (docs/reading-runs.md).
 */
import { median } from '../../core/numeric/robust.ts';
import { boxFalls, edgePairs, type FallSearch } from '../../core/signal/index.ts';
import type { SpraySeries } from './spray-series.ts';

const FALL_LEAST_LOG = -Math.log(1 - 0.12);
const BURST_LEAST_LOG = Math.log(1.3);
const LONGEST_S = 180;
const BESIDE_S = 30;
/**
 * Sigmas of the box's own kind. 4.6: white noise exceeds it about once in a day of scans every 1.6 s and some eight
 * independent lengths. Edges are asked for more, because gains have longer tails.
 */
const SIGMAS = { background: 4.6, edges: 5.2 };
/** A witness agrees from this share of the fall on (in logs), and denies below the other. */
const AGREES = 0.4;
const DENIES = 0.1;

export interface SprayFall {
  first: number;
  past: number;
  /** Size of the change as a log, positive, and in sigmas. */
  size_log: number;
  sigmas: number;
  sign: -1 | 1;
  from: 'background ions' | 'matched peaks';
  /** Did the low and the high m/z half change alike? */
  halves: Witness;
  /** Did the total level change too? */
  level: Witness;
  /** Background ions: did they move by like amounts? Matched peaks: do the ions followed through each edge jump there? */
  ions: Witness;
}

export type Witness = 'agrees' | 'denies' | 'silent';

export interface SprayFalls {
  falls: SprayFall[];
  /** Of falls in the series that leads, background ions before matched peaks. */
  limits: FallSearch['limits'];
}

export function sprayFalls(series: SpraySeries): SprayFalls {
  const found: SprayFall[] = [];
  let limits: FallSearch['limits'] = [];
  const add = (fall: Shape, sign: -1 | 1, from: SprayFall['from']): void => {
    if (found.some((other) => other.first < fall.past && fall.first < other.past)) return;
    if (from === 'matched peaks' && denied(series, fall, limits)) return;
    found.push(judged(series, fall, sign, from));
  };
  if (series.has_background) {
    const falls = inBackground(series, -1);
    limits = falls.limits;
    for (const fall of falls.shapes) add(fall, -1, 'background ions');
    for (const rise of inBackground(series, 1).shapes) add(rise, 1, 'background ions');
  }
  if (series.has_course) {
    const search = edgePairs(series.time_s, series.step, {
      least_log: FALL_LEAST_LOG,
      sigmas: SIGMAS.edges,
      longest_s: LONGEST_S,
    });
    for (const pair of search.pairs) add(pair, -1, 'matched peaks');
    if (!series.has_background) limits = edgeLimits(series, search.limits);
  }
  return { falls: found.sort((a, b) => a.first - b.first), limits };
}

interface Shape {
  first: number;
  past: number;
  size_log: number;
  sigmas: number;
}

function inBackground(series: SpraySeries, sign: -1 | 1): { shapes: Shape[]; limits: FallSearch['limits'] } {
  const { log } = series.background;
  const at = indices(log);
  const result = boxFalls(
    Float64Array.from(at, (i) => series.time_s[i]!),
    Float64Array.from(at, (i) => log[i]!),
    {
      sign,
      least_log: sign < 0 ? FALL_LEAST_LOG : BURST_LEAST_LOG,
      sigmas: SIGMAS.background,
      longest_s: LONGEST_S,
      beside_s: BESIDE_S,
    },
  );
  const shapes = result.falls.map((fall) => ({
    first: at[fall.first]!,
    past: at[fall.past - 1]! + 1,
    size_log: fall.mean_log,
    sigmas: fall.sigmas,
  }));
  return { shapes, limits: result.limits };
}

/** An edge that takes two steps is seen alike whatever stands between it and the next. */
function edgeLimits(
  series: SpraySeries,
  limits: readonly { steps: number; size_log: number }[],
): FallSearch['limits'] {
  const n = series.time_s.length;
  const interval_s = (series.time_s[n - 1]! - series.time_s[0]!) / Math.max(1, n - 1);
  const size_log = limits[1]?.size_log ?? Number.POSITIVE_INFINITY;
  return [1, Math.round(10 / interval_s), Math.round(60 / interval_s), Math.round(LONGEST_S / interval_s)]
    .filter((scans) => scans < n / 4)
    .map((scans) => ({ scans, length_s: scans * interval_s, size_log }));
}

/** The background ions could have shown this fall and did not: elution. */
function denied(series: SpraySeries, fall: Shape, limits: FallSearch['limits']): boolean {
  if (!series.has_background) return false;
  const limit = limits.find((entry) => entry.scans >= fall.past - fall.first)?.size_log ?? Infinity;
  const size = -boxSize(series.background.log, fall.first, fall.past);
  if (Number.isNaN(size)) return false;
  return size < AGREES * fall.size_log || limit > fall.size_log;
}

function judged(series: SpraySeries, fall: Shape, sign: -1 | 1, from: SprayFall['from']): SprayFall {
  const size = fall.size_log;
  const { low, high } = series.background;
  const halves =
    from === 'background ions'
      ? both(sign * boxSize(low, fall.first, fall.past), sign * boxSize(high, fall.first, fall.past), size)
      : both(
          sign * edgeSize(series.gain_low, fall.first, fall.past),
          sign * edgeSize(series.gain_high, fall.first, fall.past),
          size,
        );
  const level = sign * boxSize(series.level_log, fall.first, fall.past);
  return {
    first: fall.first,
    past: fall.past,
    size_log: size,
    sigmas: fall.sigmas,
    sign,
    from,
    halves,
    level: Number.isNaN(level)
      ? 'silent'
      : level >= AGREES * size
        ? 'agrees'
        : level < -AGREES * size
          ? 'denies'
          : 'silent',
    ions:
      from === 'matched peaks'
        ? atOnce(series, fall)
        : size < UNLIKE_DEEPEST
          ? together(series, fall)
          : 'silent',
  };
}

/** The jumps of all ions within a scan of each edge; 'silent' where one has none. */
function atOnce({ jump }: SpraySeries, { first, past, size_log }: Shape): Witness {
  const down = Math.min(...[first - 1, first, first + 1].map((i) => jump[i] ?? Number.NaN));
  const up = Math.max(...[past - 1, past, past + 1].map((i) => jump[i] ?? Number.NaN));
  if (Number.isNaN(down + up)) return 'silent';
  return (up - down) / 2 < AGREES * size_log ? 'denies' : 'agrees';
}

/** What the ions differ by among themselves, inside over beside: a spray that sinks leaves it (computed: 0.9 to 1.6 for sags of 20 and 30 %), a new composition doubles it (1.7 to 2.8). */
const UNLIKE = 1.8;
/** The standard error of the middle of the ions grows by at least this share of the fall. Judgement, between 0.04 and 0.08 computed for the two. */
const UNLIKE_OF_SIZE = 0.06;
/** A deeper fall leaves few counts, which differ by themselves. */
const UNLIKE_DEEPEST = Math.LN2;
const UNLIKE_BESIDE = 30;
const UNLIKE_APART = 3;
const UNLIKE_LEAST = 6;

function together({ background: { error } }: SpraySeries, { first, past, size_log }: Shape): Witness {
  const known = (from: number, to: number): number[] => {
    const values: number[] = [];
    for (let i = Math.max(0, from); i < Math.min(error.length, to); i++) {
      if (Number.isFinite(error[i]!)) values.push(error[i]!);
    }
    return values;
  };
  const inside = known(first, past);
  const beside = [
    ...known(first - UNLIKE_APART - UNLIKE_BESIDE, first - UNLIKE_APART),
    ...known(past + UNLIKE_APART, past + UNLIKE_APART + UNLIKE_BESIDE),
  ];
  if (inside.length === 0 || beside.length < UNLIKE_LEAST) return 'silent';
  const now = median(inside);
  const usual = median(beside);
  return now > UNLIKE * usual && now - usual > UNLIKE_OF_SIZE * size_log ? 'denies' : 'agrees';
}

function both(low: number, high: number, size: number): Witness {
  if (Number.isNaN(low) || Number.isNaN(high)) return 'silent';
  if (Math.min(low, high) >= AGREES * size) return 'agrees';
  return Math.min(low, high) < DENIES * size ? 'denies' : 'silent';
}

/** Mean inside less the mean beside, over as many scans on each side as inside but at least six. */
export function boxSize(log: Float64Array, first: number, past: number): number {
  const reach = Math.max(6, past - first);
  const inside = mean(log, first, past);
  const left = mean(log, Math.max(0, first - reach), first);
  const right = mean(log, past, Math.min(log.length, past + reach));
  return inside - (left + right) / 2;
}

/** Half of the gains' step down and up again at the edges of the box. */
function edgeSize(gain: Float64Array, first: number, past: number): number {
  const sum = (from: number): number => {
    let total = 0;
    for (let i = Math.max(1, from - 1); i <= Math.min(gain.length - 1, from + 1); i++) {
      if (!Number.isNaN(gain[i]!)) total += gain[i]!;
    }
    return total;
  };
  return (sum(first) - sum(past)) / 2;
}

function mean(log: Float64Array, from: number, to: number): number {
  let sum = 0;
  let count = 0;
  for (let i = from; i < to; i++) {
    if (Number.isNaN(log[i]!)) continue;
    sum += log[i]!;
    count++;
  }
  return count > 0 ? sum / count : Number.NaN;
}

function indices(log: Float64Array): Int32Array {
  const at: number[] = [];
  for (let i = 0; i < log.length; i++) if (Number.isFinite(log[i]!)) at.push(i);
  return Int32Array.from(at);
}
