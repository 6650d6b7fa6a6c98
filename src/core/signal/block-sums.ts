/**
 * Sums for least-squares periodograms of many overlapping windows of one uneven series: the trigonometric sums are made
 * once for blocks of samples, and any window that is a run of whole blocks takes them by two subtractions for each
 * frequency. Power as in lombScargle (constant, cosine and sine fitted, equal weights).
 * Rounding: differences of running sums lose a digit or two, far below any power told.
 */

import { turningAngles } from './turning-angles.ts';

/** Samples in a block: a window starts and ends at multiples of it. */
export const BLOCK = 16;
/** C, S, YC, YS, CC, CS. */
const KINDS = 6;

export class BlockSums {
  readonly blocks: number;
  readonly count: number;
  readonly from_Hz: number;
  readonly step_Hz: number;
  /** Running sums, KINDS values for each frequency and block edge. */
  readonly #sums: Float64Array<ArrayBuffer>;
  readonly #y: Float64Array;
  readonly #yy: Float64Array;

  /**
   * Samples `first` to `first + size`; what does not fill a block at the end is left out. `before`, sums on the same grid that
   * are no longer asked, gives its memory.
   */
  constructor(
    time_s: Float64Array,
    value: Float64Array,
    first: number,
    size: number,
    grid: { from_Hz: number; step_Hz: number; count: number },
    before?: BlockSums,
  ) {
    this.blocks = Math.floor(size / BLOCK);
    this.count = grid.count;
    this.from_Hz = grid.from_Hz;
    this.step_Hz = grid.step_Hz;
    const n = this.blocks * BLOCK;
    this.#y = new Float64Array(this.blocks + 1);
    this.#yy = new Float64Array(this.blocks + 1);
    for (let b = 0; b < this.blocks; b++) {
      let y = 0;
      let yy = 0;
      for (let i = first + b * BLOCK; i < first + (b + 1) * BLOCK; i++) {
        y += value[i]!;
        yy += value[i]! * value[i]!;
      }
      this.#y[b + 1] = this.#y[b]! + y;
      this.#yy[b + 1] = this.#yy[b]! + yy;
    }
    const length = (this.blocks + 1) * grid.count * KINDS;
    // The first row is zero in any of them, and all others are written.
    const room = before?.count === grid.count ? before.#sums : undefined;
    this.#sums = room !== undefined && room.length >= length ? room : new Float64Array(length);
    this.#fill(time_s.subarray(first, first + n), value.subarray(first, first + n));
  }

  #fill(time_s: Float64Array, value: Float64Array): void {
    const n = time_s.length;
    const sums = this.#sums;
    const row = this.count * KINDS;
    const angles = turningAngles(time_s, this.from_Hz, this.step_Hz);
    const { cos, sin } = angles;
    for (let k = 0; k < this.count; k++) {
      angles.toNext();
      let c1 = 0;
      let s1 = 0;
      let yc = 0;
      let ys = 0;
      let cc = 0;
      let cs = 0;
      let at = row + k * KINDS;
      for (let from = 0; from < n; from += BLOCK, at += row) {
        for (let i = from; i < from + BLOCK; i++) {
          const c = cos[i]!;
          const s = sin[i]!;
          const y = value[i]!;
          c1 += c;
          s1 += s;
          yc += y * c;
          ys += y * s;
          cc += c * c;
          cs += c * s;
        }
        sums[at] = c1;
        sums[at + 1] = s1;
        sums[at + 2] = yc;
        sums[at + 3] = ys;
        sums[at + 4] = cc;
        sums[at + 5] = cs;
      }
    }
  }

  /** Sum of squared deviations from the mean of the window of blocks [first, past). */
  squares(first: number, past: number): number {
    const y = this.#y[past]! - this.#y[first]!;
    return this.#yy[past]! - this.#yy[first]! - (y * y) / ((past - first) * BLOCK);
  }

  /** Power at each frequency from `from` on for the window of blocks [first, past), into `out`; 0 where the times hide it. */
  power(first: number, past: number, from: number, out: Float64Array): void {
    const n = (past - first) * BLOCK;
    const sums = this.#sums;
    const row = this.count * KINDS;
    const y = this.#y[past]! - this.#y[first]!;
    const yy = this.#yy[past]! - this.#yy[first]! - (y * y) / n;
    const least = FLAT * n * n;
    const most = GATHERED * n * n;
    let low = first * row + from * KINDS;
    let high = past * row + from * KINDS;
    for (let k = from; k < this.count; k++, low += KINDS, high += KINDS) {
      const c1 = sums[high]! - sums[low]!;
      const s1 = sums[high + 1]! - sums[low + 1]!;
      const yc = sums[high + 2]! - sums[low + 2]! - (y * c1) / n;
      const ys = sums[high + 3]! - sums[low + 3]! - (y * s1) / n;
      const raw = sums[high + 4]! - sums[low + 4]!;
      const CC = raw - (c1 * c1) / n;
      const SS = n - raw - (s1 * s1) / n;
      const CS = sums[high + 5]! - sums[low + 5]! - (c1 * s1) / n;
      const D = CC * SS - CS * CS;
      // Where the samples stand at like phases a constant and a sinusoid cannot be told apart.
      const gathered = c1 * c1 + s1 * s1 > most;
      out[k] =
        D > least && !gathered && yy > 0 ? (yc * yc * SS + ys * ys * CC - 2 * yc * ys * CS) / (D * yy) : 0;
    }
  }
}

const FLAT = 1e-6;
/** Share of the samples' unit vectors that may add up, squared. Random phases add up to 1 / n. Judgement. */
const GATHERED = 0.15;
