/**
 * The slow course of each background ion: its median over blocks of scans, drawn straight between block middles, and what
 * is left of the ion without it. Changes slower than COURSE_S are taken out with it. Blocks come one after another; each is
 * given on as soon as those that its course and its neighbours' rest on are there, so that only a few wait.
 */
import { medianInPlace } from '../../core/signal/index.ts';
import type { TrackBlock } from './ion-tracks.ts';

/** An ion's slow course is its median over this time and at least three blocks. */
const COURSE_S = 300;

export interface FollowedBlock {
  block: TrackBlock;
  /** Time of its middle scan. */
  centre_s: number;
  /** Median ln intensity of each ion, and in how many scans it was seen. */
  middle: Float64Array;
  seen: Int32Array;
  /** Slow course of each ion at the middle of the block. */
  course: Float64Array;
  /** ln intensity less the slow course of the ion, the course drawn straight between block middles. */
  residual: Float32Array;
}

/** What stays of a block of scans. */
export interface DoneBlock extends Omit<TrackBlock, 'log'> {
  /** Time of its middle scan. */
  centre_s: number;
  /** For each ion: median ln intensity, scans it was seen in, slow course at the middle of the block, its scatter about it. */
  middle: Float64Array;
  seen: Int32Array;
  course: Float64Array;
  sigma: Float64Array;
}

interface WaitingBlock extends Omit<FollowedBlock, 'course' | 'residual'> {
  column: Map<number, number>;
}

export class BlockCourses {
  /** Blocks on which a course may still rest; the first is number `#from` of all. */
  readonly #held: WaitingBlock[] = [];
  #from = 0;
  /** Number of the block that is given on next. */
  #next = 0;

  /** Blocks come in order; gives on those that are complete by now. */
  take(block: TrackBlock, centre_s: number): FollowedBlock[] {
    this.#held.push({ block, centre_s, ...blockLevels(block) });
    const ready: FollowedBlock[] = [];
    while (this.#isWhole(this.#next) && this.#isWhole(this.#next + 1)) ready.push(this.#followed());
    return ready;
  }

  /** The rest: where the run ends, a course ends too. */
  finish(): FollowedBlock[] {
    const ready: FollowedBlock[] = [];
    while (this.#next <= this.#last) ready.push(this.#followed());
    return ready;
  }

  get #last(): number {
    return this.#from + this.#held.length - 1;
  }

  /** Has the course at block `b` all the blocks behind it that it rests on? */
  #isWhole(b: number): boolean {
    return b < this.#last && this.#apart_s(b, this.#windowOf(b).to) >= COURSE_S / 2;
  }

  #at(b: number): WaitingBlock {
    return this.#held[b - this.#from]!;
  }

  #apart_s(a: number, b: number): number {
    return Math.abs(this.#at(b).centre_s - this.#at(a).centre_s);
  }

  /** Blocks [from, to] that make up the course at block `b`. */
  #windowOf(b: number): { from: number; to: number } {
    let from = Math.max(this.#from, b - 1);
    let to = Math.min(this.#last, b + 1);
    while (from > this.#from && this.#apart_s(from, b) < COURSE_S / 2) from--;
    while (to < this.#last && this.#apart_s(b, to) < COURSE_S / 2) to++;
    return { from, to };
  }

  /** Gives on the next block and forgets those on which no later course rests. */
  #followed(): FollowedBlock {
    const b = this.#next++;
    const { block, centre_s, middle, seen } = this.#at(b);
    const { scans } = block;
    const ids = block.ids.length;
    const residual = new Float32Array(scans * ids);
    const course = new Float64Array(ids);
    const own = this.#windowOf(b);
    const left = b > this.#from ? this.#windowOf(b - 1) : undefined;
    const right = b < this.#last ? this.#windowOf(b + 1) : undefined;
    for (let c = 0; c < ids; c++) {
      const id = block.ids[c]!;
      const here = this.#courseOf(id, own);
      const before = left && this.#at(b - 1).column.has(id) ? this.#courseOf(id, left) : here;
      const after = right && this.#at(b + 1).column.has(id) ? this.#courseOf(id, right) : here;
      course[c] = here;
      for (let s = 0; s < scans; s++)
        residual[s * ids + c] = block.log[s * ids + c]! - drawnAt(s, scans, before, here, after);
    }
    this.#held.splice(0, own.from - this.#from);
    this.#from = own.from;
    return { block, centre_s, middle, seen, course, residual };
  }

  #courseOf(id: number, { from, to }: { from: number; to: number }): number {
    let count = 0;
    for (let k = from; k <= to; k++) {
      const { column, middle } = this.#at(k);
      const c = column.get(id);
      if (c !== undefined) few[count++] = middle[c]!;
      if (count === few.length) break;
    }
    return count > 0 ? medianInPlace(few, count) : Number.NaN;
  }
}

/** Blocks in a course: more would take scans every few milliseconds. */
const few = new Float64Array(256);

/** A course at scan `s` of a block: straight from the middle of the block before to its own, and on to the one after. */
export function drawnAt(s: number, scans: number, before: number, own: number, after: number): number {
  const share = (s + 0.5) / scans - 0.5;
  return share < 0 ? own - share * (before - own) : own + share * (after - own);
}

function blockLevels(block: TrackBlock): Pick<WaitingBlock, 'middle' | 'seen' | 'column'> {
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
