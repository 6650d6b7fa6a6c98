/**
 * The spray factor from ions that are always there: each ion against its own slow course, the middle over the ions in
 * each scan. A spray fault takes all of them along; elution, bleed and a change of composition do not, or not alike.
 * The slow course is taken out, so the factor says nothing of changes slower than COURSE_S.
 * An ion that is missing in a scan counts as lower than any value, so that a loss does not hide itself; where most are
 * missing there is no value.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
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
    slow: slowCourse(blocks, levels, time_s),
    count: counts.length > 0 ? median(counts) : 0,
  };
}

/** Ions that stand in this share of the blocks carry the slow course. */
const LASTING_SHARE = 0.75;

function slowCourse(
  blocks: readonly TrackBlock[],
  levels: readonly BlockLevels[],
  time_s: ArrayLike<number>,
): BackgroundSeries['slow'] {
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
  const slow: BackgroundSeries['slow'] = [];
  blocks.forEach((block, b) => {
    const offs: { off: number; high: boolean }[] = [];
    block.ids.forEach((id, c) => {
      const middle = middles.get(id);
      if (middle !== undefined) {
        offs.push({ off: levels[b]!.middle[c]! - middle, high: block.mz[c]! > split });
      }
    });
    const of = (high: boolean): number =>
      median(offs.filter((one) => one.high === high).map((one) => one.off));
    if (offs.length < LEAST_IONS) return;
    slow.push({
      time_s: time_s[block.first + (block.scans >> 1)]!,
      log: median(offs.map((one) => one.off)),
      low: of(false),
      high: of(true),
    });
  });
  return slow;
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
    middle[c] = median(values.subarray(0, count));
    column.set(block.ids[c]!, c);
  }
  return { middle, seen, column };
}

/** Blocks [from, to] around each block that make up its course, and the block's middle time. */
function courseWindows(
  blocks: readonly TrackBlock[],
  time_s: ArrayLike<number>,
): { from: number; to: number; centre_s: number }[] {
  const centres = blocks.map((block) => time_s[block.first + (block.scans >> 1)] ?? 0);
  return blocks.map((_, b) => {
    let from = Math.max(0, b - 1);
    let to = Math.min(blocks.length - 1, b + 1);
    while (from > 0 && centres[b]! - centres[from]! < COURSE_S / 2) from--;
    while (to < blocks.length - 1 && centres[to]! - centres[b]! < COURSE_S / 2) to++;
    return { from, to, centre_s: centres[b]! };
  });
}

/** ln intensity less the slow course of each ion in block `b`, the course drawn straight between block middles. */
function residuals(
  blocks: readonly TrackBlock[],
  levels: readonly BlockLevels[],
  courses: readonly { from: number; to: number }[],
  b: number,
): Float32Array {
  const block = blocks[b]!;
  const ids = block.ids.length;
  const residual = new Float32Array(block.scans * ids);
  const values: number[] = [];
  const courseOf = (id: number, at: number): number => {
    const window = courses[at];
    if (!window) return Number.NaN;
    values.length = 0;
    for (let k = window.from; k <= window.to; k++) {
      const c = levels[k]!.column.get(id);
      if (c !== undefined) values.push(levels[k]!.middle[c]!);
    }
    return values.length > 0 ? median(values) : Number.NaN;
  };
  for (let c = 0; c < ids; c++) {
    const id = block.ids[c]!;
    const own = courseOf(id, b);
    const before = levels[b - 1]?.column.has(id) ? courseOf(id, b - 1) : own;
    const after = levels[b + 1]?.column.has(id) ? courseOf(id, b + 1) : own;
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
  const values: number[] = [];
  for (let c = 0; c < ids; c++) {
    values.length = 0;
    for (let s = 0; s < scans; s++) {
      const value = residual[s * ids + c]!;
      if (!Number.isNaN(value)) values.push(value);
    }
    sigma[c] = Math.hypot(values.length > 2 ? madSigma(values) : 1, COMMON_FLOOR);
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

function weightedMedian(count: number, below: number, total: number): number {
  // Insertion sort of both arrays: there are at most some eighty values.
  for (let i = 1; i < count; i++) {
    const v = value[i]!;
    const w = weight[i]!;
    let k = i - 1;
    while (k >= 0 && value[k]! > v) {
      value[k + 1] = value[k]!;
      weight[k + 1] = weight[k]!;
      k--;
    }
    value[k + 1] = v;
    weight[k + 1] = w;
  }
  let sum = below;
  for (let i = 0; i < count; i++) {
    sum += weight[i]!;
    if (sum >= total / 2) return value[i]!;
  }
  return value[count - 1]!;
}
