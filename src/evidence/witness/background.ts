/**
 * The spray factor from ions that are always there: each ion against its own slow course, the middle over the ions in
 * each scan. A spray fault takes all of them along; elution, bleed and a change of composition do not, or not alike.
 * The slow course is taken out, so the factor says nothing of changes slower than COURSE_S.
 * An ion that is missing in a scan counts as lower than any value, so that a loss does not hide itself; where most are
 * missing there is no value.
 */
import { median } from '../../core/numeric/robust.ts';
import { madSigmaInPlace, medianInPlace } from '../../core/signal/index.ts';
import type { TrackBlock } from './ion-tracks.ts';

/** An ion's slow course is its median over this time and at least three blocks. */
const COURSE_S = 300;
/** Scatter every ion has besides its own, so that one strong ion does not outvote the rest. */
const COMMON_FLOOR = 0.1;
/** Ions needed in a scan's block for a factor. Judgement: with fewer one bad ion carries it. */
export const LEAST_IONS = 8;
/** Deviations are cut at so many of an ion's sigma (Huber). */
const CUT = 2;
/** Standard error of such a cut mean against that of the mean of normal values. */
const CUT_LOSS = 1.05;

export interface BackgroundSeries {
  /** ln factor about the slow course, for each scan of the stream; NaN for none. */
  log: Float64Array;
  error: Float64Array;
  /** The same from the lower and the upper half of the ions by m/z. */
  low: Float64Array;
  high: Float64Array;
  ions: BackgroundIon[];
  /** Slow course common to the ions that last: ln level of each block about their middle, and the block's middle time. */
  slow: { time_s: number; log: number; low: number; high: number }[];
  /** The slow course that was taken out, as far as the lasting ions share it, at each scan; NaN for none. */
  course: Float64Array;
  /** Middle number of ions. */
  count: number;
}

export interface BackgroundIon {
  mz: number;
  presence: number;
  /** ln intensity in the middle of the run. */
  log: number;
  scatter: number;
  blocks: number;
}

export function backgroundSeries(blocks: readonly TrackBlock[], time_s: ArrayLike<number>): BackgroundSeries {
  const n = time_s.length;
  const out = {
    log: new Float64Array(n).fill(Number.NaN),
    error: new Float64Array(n).fill(Number.NaN),
    low: new Float64Array(n).fill(Number.NaN),
    high: new Float64Array(n).fill(Number.NaN),
  };
  const levels = blocks.map(blockLevels);
  const courses = courseWindows(blocks, time_s);
  const tally = new Map<number, { mz: number; seen: number; of: number; logs: number[]; sigmas: number[] }>();
  const counts: number[] = [];
  blocks.forEach((block, b) => {
    const ids = block.ids.length;
    counts.push(ids);
    const residual = residuals(blocks, levels, courses, b);
    const sigma = ionSigmas(residual, block.scans, ids);
    for (let c = 0; c < ids; c++) {
      const entry = tally.get(block.ids[c]!) ?? { mz: block.mz[c]!, seen: 0, of: 0, logs: [], sigmas: [] };
      entry.seen += levels[b]!.seen[c]!;
      entry.of += block.scans;
      entry.logs.push(levels[b]!.middle[c]!);
      entry.sigmas.push(sigma[c]!);
      tally.set(block.ids[c]!, entry);
    }
    if (ids < LEAST_IONS) return;
    const half = ids >> 1;
    for (let s = 0; s < block.scans; s++) {
      const row = residual.subarray(s * ids, (s + 1) * ids);
      const whole = combined(row, sigma, 0, ids);
      const i = block.first + s;
      out.log[i] = whole.value;
      out.error[i] = whole.error;
      out.low[i] = combined(row, sigma, 0, half).value;
      out.high[i] = combined(row, sigma, half, ids).value;
    }
  });
  const slow = slowCourse(blocks, levels, courses);
  const ions = [...tally.values()].map((entry) => ({
    mz: entry.mz,
    presence: entry.seen / Math.max(1, n),
    log: median(entry.logs),
    scatter: median(entry.sigmas),
    blocks: entry.logs.length,
  }));
  return {
    ...out,
    ions,
    slow: slow.map(({ at, log, low, high }) => ({ time_s: courses[at]!.centre_s, log, low, high })),
    course: drawn(blocks, slow, n),
    count: counts.length > 0 ? median(counts) : 0,
  };
}

/** Ions that stand in this share of the blocks carry the slow course. */
const LASTING_SHARE = 0.75;

interface SlowBlock {
  /** Number of the block. */
  at: number;
  log: number;
  low: number;
  high: number;
  /** Common part of the courses that are taken out of the ions. */
  course: number;
}

function slowCourse(
  blocks: readonly TrackBlock[],
  levels: readonly BlockLevels[],
  courses: readonly CourseWindow[],
): SlowBlock[] {
  const met = new Map<number, { mz: number; logs: number[] }>();
  blocks.forEach((block, b) => {
    block.ids.forEach((id, c) => {
      const entry = met.get(id) ?? { mz: block.mz[c]!, logs: [] };
      entry.logs.push(levels[b]!.middle[c]!);
      met.set(id, entry);
    });
  });
  const lasting = [...met].filter(([, entry]) => entry.logs.length >= LASTING_SHARE * blocks.length);
  if (lasting.length < LEAST_IONS) return [];
  const split = median(lasting.map(([, entry]) => entry.mz));
  const middles = new Map(lasting.map(([id, entry]) => [id, median(entry.logs)]));
  const slow: SlowBlock[] = [];
  blocks.forEach((block, b) => {
    const offs: { off: number; course: number; high: boolean }[] = [];
    block.ids.forEach((id, c) => {
      const middle = middles.get(id);
      if (middle === undefined) return;
      offs.push({
        off: levels[b]!.middle[c]! - middle,
        course: courseOf(levels, courses, id, b) - middle,
        high: block.mz[c]! > split,
      });
    });
    const of = (high: boolean): number =>
      median(offs.filter((one) => one.high === high).map((one) => one.off));
    if (offs.length < LEAST_IONS) return;
    slow.push({
      at: b,
      log: median(offs.map((one) => one.off)),
      low: of(false),
      high: of(true),
      course: median(offs.map((one) => one.course)),
    });
  });
  return slow;
}

/** The common course drawn through the blocks' middles as each ion's own is. */
function drawn(blocks: readonly TrackBlock[], slow: readonly SlowBlock[], n: number): Float64Array {
  const out = new Float64Array(n).fill(Number.NaN);
  const of = new Map(slow.map(({ at, course }) => [at, course]));
  for (const { at, course } of slow) {
    const { first, scans } = blocks[at]!;
    const before = of.get(at - 1) ?? course;
    const after = of.get(at + 1) ?? course;
    for (let s = 0; s < scans; s++) {
      const share = (s + 0.5) / scans - 0.5;
      out[first + s] = share < 0 ? course - share * (before - course) : course + share * (after - course);
    }
  }
  return out;
}

interface BlockLevels {
  /** Median ln intensity of each ion in the block. */
  middle: Float64Array;
  seen: Int32Array;
  column: Map<number, number>;
}

function blockLevels(block: TrackBlock): BlockLevels {
  const ids = block.ids.length;
  const middle = new Float64Array(ids);
  const seen = new Int32Array(ids);
  const column = new Map<number, number>();
  const values = new Float64Array(block.scans);
  for (let c = 0; c < ids; c++) {
    let count = 0;
    for (let s = 0; s < block.scans; s++) {
      const value = block.log[s * ids + c]!;
      if (!Number.isNaN(value)) values[count++] = value;
    }
    seen[c] = count;
    middle[c] = medianInPlace(values, count);
    column.set(block.ids[c]!, c);
  }
  return { middle, seen, column };
}

interface CourseWindow {
  from: number;
  to: number;
  centre_s: number;
}

/** Blocks [from, to] around each block that make up its course, and the block's middle time. */
function courseWindows(blocks: readonly TrackBlock[], time_s: ArrayLike<number>): CourseWindow[] {
  const centres = blocks.map((block) => time_s[block.first + (block.scans >> 1)] ?? 0);
  return blocks.map((_, b) => {
    let from = Math.max(0, b - 1);
    let to = Math.min(blocks.length - 1, b + 1);
    while (from > 0 && centres[b]! - centres[from]! < COURSE_S / 2) from--;
    while (to < blocks.length - 1 && centres[to]! - centres[b]! < COURSE_S / 2) to++;
    return { from, to, centre_s: centres[b]! };
  });
}

/** Slow course of an ion at the middle of a block; NaN outside the run. */
function courseOf(
  levels: readonly BlockLevels[],
  courses: readonly CourseWindow[],
  id: number,
  at: number,
): number {
  const window = courses[at];
  if (!window) return Number.NaN;
  let count = 0;
  for (let k = window.from; k <= window.to; k++) {
    const c = levels[k]!.column.get(id);
    if (c !== undefined) few[count++] = levels[k]!.middle[c]!;
    if (count === few.length) break;
  }
  return count > 0 ? medianInPlace(few, count) : Number.NaN;
}

/** Blocks in a course: more would take scans every few milliseconds. */
const few = new Float64Array(256);

/** ln intensity less the slow course of each ion in block `b`, the course drawn straight between block middles. */
function residuals(
  blocks: readonly TrackBlock[],
  levels: readonly BlockLevels[],
  courses: readonly CourseWindow[],
  b: number,
): Float32Array {
  const block = blocks[b]!;
  const ids = block.ids.length;
  const residual = new Float32Array(block.scans * ids);
  for (let c = 0; c < ids; c++) {
    const id = block.ids[c]!;
    const own = courseOf(levels, courses, id, b);
    const before = levels[b - 1]?.column.has(id) ? courseOf(levels, courses, id, b - 1) : own;
    const after = levels[b + 1]?.column.has(id) ? courseOf(levels, courses, id, b + 1) : own;
    for (let s = 0; s < block.scans; s++) {
      const share = (s + 0.5) / block.scans - 0.5;
      const course = share < 0 ? own - share * (before - own) : own + share * (after - own);
      residual[s * ids + c] = block.log[s * ids + c]! - course;
    }
  }
  return residual;
}

function ionSigmas(residual: Float32Array, scans: number, ids: number): Float64Array {
  const sigma = new Float64Array(ids);
  const values = new Float64Array(scans);
  for (let c = 0; c < ids; c++) {
    let count = 0;
    for (let s = 0; s < scans; s++) {
      const value = residual[s * ids + c]!;
      if (!Number.isNaN(value)) values[count++] = value;
    }
    sigma[c] = Math.hypot(count > 2 ? madSigmaInPlace(values, count) : 1, COMMON_FLOOR);
  }
  return sigma;
}

const value = new Float64Array(512);
const weight = new Float64Array(512);

/** Weighted median, then one step to the cut mean; missing ions stand below all others. */
function combined(
  row: Float32Array,
  sigma: Float64Array,
  from: number,
  to: number,
): { value: number; error: number } {
  let count = 0;
  let total = 0;
  let missing = 0;
  for (let c = from; c < to; c++) {
    const w = 1 / (sigma[c]! * sigma[c]!);
    total += w;
    if (!Number.isNaN(row[c]!)) {
      value[count] = row[c]!;
      weight[count++] = w;
    } else missing += w;
  }
  if (count < 3 || missing > total / 2) return { value: Number.NaN, error: Number.NaN };
  const middle = weightedMedian(count, missing, total);
  let sum = 0;
  let used = 0;
  let squares = 0;
  for (let c = from; c < to; c++) {
    const s = sigma[c]!;
    const w = 1 / (s * s);
    const off = Number.isNaN(row[c]!) ? -CUT * s : row[c]! - middle;
    const cut = Math.max(-CUT * s, Math.min(CUT * s, off));
    sum += w * cut;
    squares += w * w * cut * cut;
    used += w;
  }
  return { value: middle + sum / used, error: (CUT_LOSS * Math.sqrt(squares)) / used };
}

/** Smallest value whose weight and that of all below it make up half; reorders both arrays. Selection by halves. */
function weightedMedian(count: number, below: number, total: number): number {
  let low = 0;
  let high = count - 1;
  let sum = below;
  while (low < high) {
    const pivot = value[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (value[i]! < pivot) i++;
      while (value[j]! > pivot) j--;
      if (i > j) break;
      const v = value[i]!;
      const w = weight[i]!;
      value[i] = value[j]!;
      weight[i++] = weight[j]!;
      value[j] = v;
      weight[j--] = w;
    }
    // Up to j stand values no larger than the pivot, from i on no smaller ones, between them the pivot itself.
    let left = 0;
    for (let k = low; k <= j; k++) left += weight[k]!;
    if (sum + left >= total / 2) {
      high = j;
      continue;
    }
    sum += left;
    for (let k = j + 1; k < i; k++) sum += weight[k]!;
    if (i - j > 1 && sum >= total / 2) return pivot;
    low = i;
  }
  return value[Math.min(low, count - 1)]!;
}
