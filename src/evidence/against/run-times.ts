/**
 * How the run times of two runs of one method lie to each other: time of the reference = time of this run + shift(time).
 * From passing ions: in windows along the run the difference of times at which most ions of like m/z pass, then a curve
 * straight between the windows that agree. From the level: the shift and stretch at which the changes of ln level from
 * step to step resemble each other most.
 * When it breaks: shifts beyond an eighth of the run; methods whose peaks change order.
 */
import { correlationAboutZero } from '../../core/numeric/correlation.ts';
import { MAD_TO_SIGMA, median } from '../../core/numeric/robust.ts';
import type { AgainstAlignment } from './against-reading.ts';
import { eachLikeMz, type Passing } from './ions-in-run.ts';

/** Largest shift looked for, as a share of the run. Judgement: columns age by less. */
const MOST_SHIFT_SHARE = 0.125;
const WINDOWS = 12;
/** Ions that have to agree in a window, and their number over what chance would put there. */
const LEAST_AGREEING = 6;
const OVER_CHANCE = 2.5;
/** Windows that have to agree. */
const LEAST_WINDOWS = 3;
/** A window this many steps off the line through the others is none of them. */
const STRAY_STEPS = 4;

export interface RunTimes extends AgainstAlignment {
  /** Time in the reference for a time in this run. */
  there(time_s: number): number;
}

export function sameTimes(): RunTimes {
  return drawn('nothing', []);
}

/** Both lists rise in m/z. Undefined where too few ions pass in both. */
export function timesByIons(
  ours: readonly Passing[],
  theirs: readonly Passing[],
  share: number,
  span: { from_s: number; to_s: number },
  step_s: number,
): RunTimes | undefined {
  const most_s = MOST_SHIFT_SHARE * (span.to_s - span.from_s);
  const pairs = nearPairs(ours, theirs, share, most_s);
  const width_s = (span.to_s - span.from_s) / WINDOWS;
  const found: { time_s: number; shift_s: number }[] = [];
  for (let w = 0; w < WINDOWS; w++) {
    const middle_s = span.from_s + (w + 0.5) * width_s;
    // Windows overlap by half, so that a sparse one borrows from its neighbours.
    const here = pairs.filter(({ time_s }) => Math.abs(time_s - middle_s) <= width_s);
    const shift_s = commonShift(here, most_s, step_s);
    if (shift_s !== undefined) found.push({ time_s: middle_s, shift_s });
  }
  const kept = withoutStrays(found, STRAY_STEPS * step_s);
  if (kept.length < LEAST_WINDOWS) return undefined;
  return drawn('passing ions', kept);
}

interface NearPair {
  time_s: number;
  shift_s: number;
}

function nearPairs(
  ours: readonly Passing[],
  theirs: readonly Passing[],
  share: number,
  most_s: number,
): NearPair[] {
  const pairs: NearPair[] = [];
  eachLikeMz(ours, theirs, share, ({ time_s }, alike) => {
    for (const other of alike) {
      const shift_s = other.time_s - time_s;
      if (Math.abs(shift_s) <= most_s) pairs.push({ time_s, shift_s });
    }
  });
  return pairs;
}

/** The middle of the fullest stretch of three steps; undefined where it is no fuller than chance. */
function commonShift(pairs: readonly NearPair[], most_s: number, step_s: number): number | undefined {
  const shifts = pairs.map(({ shift_s }) => shift_s).sort((a, b) => a - b);
  const width_s = 3 * step_s;
  let best = 0;
  let at = 0;
  let past = 0;
  for (let i = 0; i < shifts.length; i++) {
    while (past < shifts.length && shifts[past]! <= shifts[i]! + width_s) past++;
    if (past - i > best) {
      best = past - i;
      at = i;
    }
  }
  const chance = (shifts.length * width_s) / (2 * most_s);
  if (best < LEAST_AGREEING || best < OVER_CHANCE * chance) return undefined;
  return median(shifts.slice(at, at + best));
}

/** Those near the middle line through all: middle of the slopes, middle of what is left (Theil, 1950; Sen, 1968). */
function withoutStrays(points: readonly NearPair[], most_s: number): NearPair[] {
  const { offset, slope } = middleLine(points);
  return points.filter(({ time_s, shift_s }) => Math.abs(shift_s - offset - slope * time_s) <= most_s);
}

function middleLine(points: readonly NearPair[]): { offset: number; slope: number } {
  const slopes: number[] = [];
  for (let i = 0; i < points.length; i++)
    for (let k = i + 1; k < points.length; k++)
      slopes.push((points[k]!.shift_s - points[i]!.shift_s) / (points[k]!.time_s - points[i]!.time_s));
  const slope = slopes.length > 0 ? median(slopes) : 0;
  return { offset: points.length > 0 ? median(points.map((p) => p.shift_s - slope * p.time_s)) : 0, slope };
}

function drawn(from: AgainstAlignment['from'], points: readonly NearPair[]): RunTimes {
  const { slope } = middleLine(points);
  const shiftAt = (time_s: number): number => {
    const next = points.findIndex((point) => point.time_s >= time_s);
    if (points.length === 0) return 0;
    if (next < 0) return points.at(-1)!.shift_s;
    if (next === 0) return points[0]!.shift_s;
    const [a, b] = [points[next - 1]!, points[next]!];
    return a.shift_s + ((b.shift_s - a.shift_s) * (time_s - a.time_s)) / (b.time_s - a.time_s);
  };
  return {
    from,
    shift_s: points.length > 0 ? median(points.map(({ shift_s }) => shift_s)) : 0,
    stretch: 1 + slope,
    points: [...points],
    there: (time_s) => time_s + shiftAt(time_s),
  };
}

/** A level on even steps of run time; NaN where no scan stands. */
export interface LevelSteps {
  start_s: number;
  step_s: number;
  log: Float64Array;
}

/** Stretches tried, and the shift in steps of a quarter of a step. */
const STRETCHES = [0.97, 0.98, 0.985, 0.99, 0.995, 1, 1.005, 1.01, 1.015, 1.02, 1.03];
const SHIFTS_A_STEP = 2;

/** The best shift and stretch by the level, with the resemblance reached there. */
export function timesByLevel(ours: LevelSteps, theirs: LevelSteps): { times: RunTimes; resemblance: number } {
  const n = ours.log.length;
  const span_s = n * ours.step_s;
  const reach = Math.round((SHIFTS_A_STEP * MOST_SHIFT_SHARE * span_s) / ours.step_s / 2);
  let best = { resemblance: Number.NEGATIVE_INFINITY, shift_s: 0, stretch: 1 };
  for (const stretch of STRETCHES) {
    for (let k = -reach; k <= reach; k++) {
      const shift_s = (k * ours.step_s) / SHIFTS_A_STEP;
      const resemblance = likeChanges(
        ours,
        theirs,
        (t) => ours.start_s + shift_s + (t - ours.start_s) * stretch,
      );
      // Of equals the nearer to none.
      const nearer = Math.abs(k) * 1e-6 + Math.abs(stretch - 1) * 1e-4;
      if (resemblance - nearer > best.resemblance)
        best = { resemblance: resemblance - nearer, shift_s, stretch };
    }
  }
  const end_s = ours.start_s + span_s;
  const points = [
    { time_s: ours.start_s, shift_s: best.shift_s },
    { time_s: end_s, shift_s: best.shift_s + (best.stretch - 1) * span_s },
  ];
  return { times: drawn('level', points), resemblance: best.resemblance };
}

const CUT_SIGMAS = 4;
const LEAST_CHANGES = 20;

/** Changes over one step show peaks, over six the course: the more alike of the two counts. */
const LAGS = [1, 6];

/** Correlation of the changes of ln level over so many steps, each cut at four of its scatter. */
function likeChanges(ours: LevelSteps, theirs: LevelSteps, there: (time_s: number) => number): number {
  const n = ours.log.length;
  const beside = new Float64Array(n);
  for (let i = 0; i < n; i++) beside[i] = levelAt(theirs, there(ours.start_s + (i + 0.5) * ours.step_s));
  return Math.max(...LAGS.map((lag) => likeOver(ours.log, beside, lag)));
}

function likeOver(ours: Float64Array, beside: Float64Array, lag: number): number {
  const n = ours.length;
  const a: number[] = [];
  const b: number[] = [];
  for (let i = lag; i < n; i++) {
    const x = ours[i]! - ours[i - lag]!;
    const y = beside[i]! - beside[i - lag]!;
    if (!Number.isFinite(x + y)) continue;
    a.push(x);
    b.push(y);
  }
  if (a.length < Math.max(LEAST_CHANGES, n / 2)) return -1;
  const r = correlationAboutZero(cut(a), cut(b));
  return Number.isNaN(r) ? 0 : r;
}

function cut(values: readonly number[]): number[] {
  const sizes = values.map(Math.abs);
  const most = CUT_SIGMAS * Math.max(1e-6, MAD_TO_SIGMA * median(sizes));
  return values.map((value) => Math.max(-most, Math.min(most, value)));
}

/** Straight between the middles of the steps; NaN outside. */
export function levelAt(level: LevelSteps, time_s: number): number {
  const at = (time_s - level.start_s) / level.step_s - 0.5;
  const below = Math.floor(at);
  if (below < 0 || below + 1 >= level.log.length) {
    const nearest = Math.round(at);
    return nearest >= 0 && nearest < level.log.length && Math.abs(at - nearest) <= 0.5
      ? level.log[nearest]!
      : Number.NaN;
  }
  return level.log[below]! + (at - below) * (level.log[below + 1]! - level.log[below]!);
}
