/**
 * The slow course of each background ion: its median over blocks of scans, drawn straight between block middles, and what
 * is left of the ion without it. Changes slower than COURSE_S are taken out with it.
 */
import { medianInPlace } from '../../core/signal/index.ts';
import type { TrackBlock } from './ion-tracks.ts';

/** An ion's slow course is its median over this time and at least three blocks. */
const COURSE_S = 300;

export interface BlockLevels {
  /** Median ln intensity of each ion in the block. */
  middle: Float64Array;
  seen: Int32Array;
  column: Map<number, number>;
}

export function blockLevels(block: TrackBlock): BlockLevels {
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

export interface CourseWindow {
  from: number;
  to: number;
  centre_s: number;
}

/** Blocks [from, to] around each block that make up its course, and the block's middle time. */
export function courseWindows(blocks: readonly TrackBlock[], time_s: ArrayLike<number>): CourseWindow[] {
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
export function courseOf(
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

/** A course at scan `s` of a block: straight from the middle of the block before to its own, and on to the one after. */
export function drawnAt(s: number, scans: number, before: number, own: number, after: number): number {
  const share = (s + 0.5) / scans - 0.5;
  return share < 0 ? own - share * (before - own) : own + share * (after - own);
}

/** ln intensity less the slow course of each ion in block `b`, the course drawn straight between block middles. */
export function residuals(
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
    for (let s = 0; s < block.scans; s++)
      residual[s * ids + c] = block.log[s * ids + c]! - drawnAt(s, block.scans, before, own, after);
  }
  return residual;
}
