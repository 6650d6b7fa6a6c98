/**
 * The spray factor from ions that are always there: each ion against its own slow course, the middle over the ions in
 * each scan. A spray fault takes all of them along; elution, bleed and a change of composition do not, or not alike.
 * The slow course is taken out, so the factor says nothing of changes slower than COURSE_S.
 * An ion that is missing in a scan counts as lower than any value, so that a loss does not hide itself; where most are
 * missing there is no value.
 * Found while the run is read: a block of scans is done with, and the levels of its ions given back, as soon as the blocks
 * of its slow course and of its neighbours' are there. What stays is 32 bytes a scan and 32 an ion and block.
 */
import { median } from '../../core/numeric/robust.ts';
import { madSigmaInPlace } from '../../core/signal/index.ts';
import { BlockCourses, type DoneBlock, type FollowedBlock } from './ion-courses.ts';
import { combined } from './ion-mean.ts';
import type { TrackBlock } from './ion-tracks.ts';
import { drawn, LEAST_IONS, slowCourse } from './slow-course.ts';

export { LEAST_IONS } from './slow-course.ts';

/** Scatter every ion has besides its own, so that one strong ion does not outvote the rest. */
const COMMON_FLOOR = 0.1;
const FIRST_SCANS = 1024;
/** Room that nothing was written to takes no memory, columns left behind do until they are given back. */
const GROWTH = 4;

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

export class BackgroundReader {
  readonly #courses = new BlockCourses();
  readonly #done: DoneBlock[] = [];
  #log = new Float64Array(FIRST_SCANS);
  #error = new Float64Array(FIRST_SCANS);
  #low = new Float64Array(FIRST_SCANS);
  #high = new Float64Array(FIRST_SCANS);

  /** Blocks come in order; `centre_s` is the time of the middle scan. */
  take(block: TrackBlock, centre_s: number): void {
    for (const followed of this.#courses.take(block, centre_s)) this.#follow(followed);
  }

  /** `scans` of the whole stream, which the blocks hold. */
  finish(scans: number): BackgroundSeries {
    for (const followed of this.#courses.finish()) this.#follow(followed);
    const blocks = this.#done;
    const slow = slowCourse(blocks);
    const counts = blocks.map(({ ids }) => ids.length);
    return {
      log: this.#log.subarray(0, scans),
      error: this.#error.subarray(0, scans),
      low: this.#low.subarray(0, scans),
      high: this.#high.subarray(0, scans),
      ions: backgroundIons(blocks, scans),
      slow: slow.map(({ at, log, low, high }) => ({ time_s: blocks[at]!.centre_s, log, low, high })),
      course: drawn(blocks, slow, scans),
      count: counts.length > 0 ? median(counts) : 0,
    };
  }

  #follow({ block, centre_s, middle, seen, course, residual }: FollowedBlock): void {
    const { first, scans, mz } = block;
    const ids = block.ids.length;
    const sigma = ionSigmas(residual, scans, ids);
    this.#done.push({ first, scans, centre_s, ids: block.ids, mz, middle, seen, course, sigma });
    this.#reach(first + scans);
    if (ids < LEAST_IONS) {
      for (const values of [this.#log, this.#error, this.#low, this.#high])
        values.fill(Number.NaN, first, first + scans);
      return;
    }
    const half = ids >> 1;
    for (let s = 0; s < scans; s++) {
      const row = residual.subarray(s * ids, (s + 1) * ids);
      const whole = combined(row, sigma, 0, ids);
      const i = first + s;
      this.#log[i] = whole.value;
      this.#error[i] = whole.error;
      this.#low[i] = combined(row, sigma, 0, half).value;
      this.#high[i] = combined(row, sigma, half, ids).value;
    }
  }

  #reach(scans: number): void {
    if (scans <= this.#log.length) return;
    this.#log = wider(this.#log);
    this.#error = wider(this.#error);
    this.#low = wider(this.#low);
    this.#high = wider(this.#high);
  }
}

function backgroundIons(blocks: readonly DoneBlock[], scans: number): BackgroundIon[] {
  const tally = new Map<number, { mz: number; seen: number; logs: number[]; sigmas: number[] }>();
  for (const block of blocks) {
    for (let c = 0; c < block.ids.length; c++) {
      const entry = tally.get(block.ids[c]!) ?? { mz: block.mz[c]!, seen: 0, logs: [], sigmas: [] };
      entry.seen += block.seen[c]!;
      entry.logs.push(block.middle[c]!);
      entry.sigmas.push(block.sigma[c]!);
      tally.set(block.ids[c]!, entry);
    }
  }
  return [...tally.values()].map((entry) => ({
    mz: entry.mz,
    presence: entry.seen / Math.max(1, scans),
    log: median(entry.logs),
    scatter: median(entry.sigmas),
    blocks: entry.logs.length,
  }));
}

function wider(values: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const room = new Float64Array(GROWTH * values.length);
  room.set(values);
  return room;
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
