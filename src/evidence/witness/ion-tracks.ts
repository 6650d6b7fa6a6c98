/**
 * Ions followed through a run as candidates for background: a table of m/z, each scan's peaks looked up in it, and after
 * every block of scans the ions that stood in most of them handed on with their levels. Memory: one open block. An ion
 * that comes and goes in less than a block's time is forgotten.
 */
import type { PeakList } from './peak-list.ts';

/** Scans in a block. With MS1 every second it lasts longer than nanoLC peaks (5–30 s). */
export const BLOCK_SCANS = 128;
const MOST_TRACKS = 1536;
/** Ions kept from a block, and the share of its scans they have to stand in. */
export const MOST_KEPT = 80;
export const KEPT_PRESENCE = 0.7;
/** A track seen in fewer of a block's scans gives up its place. */
const FORGOTTEN_PRESENCE = 0.1;
/** The centre follows the ion with this share of each new distance. */
const FOLLOW = 0.1;
/** New tracks are opened from strong peaks only in so many scans of a block: enough for an ion that is always there. */
const OPEN_EVERY = 4;

export interface TrackBlock {
  /** First scan of the block, counted within its stream, and how many scans it holds. */
  first: number;
  scans: number;
  ids: Int32Array;
  mz: Float64Array;
  /** ln intensity, ids.length values for each scan; NaN where the ion was not found. */
  log: Float32Array;
}

export class IonTracks {
  #mz = new Float64Array(MOST_TRACKS);
  #slot = new Int32Array(MOST_TRACKS);
  #count = 0;
  readonly #id = new Int32Array(MOST_TRACKS);
  readonly #hits = new Int32Array(MOST_TRACKS);
  readonly #free = Int32Array.from({ length: MOST_TRACKS }, (_, i) => MOST_TRACKS - 1 - i);
  #freeCount = MOST_TRACKS;
  #nextId = 0;
  /** Intensity, 0 where the ion was not found. */
  readonly #level = new Float32Array(BLOCK_SCANS * MOST_TRACKS);
  #scan = 0;
  #first = 0;
  #spareMz = new Float64Array(MOST_TRACKS);
  #spareSlot = new Int32Array(MOST_TRACKS);

  /** Gives on a block with its last scan. */
  take(list: PeakList, tolerance_ppm: number): TrackBlock | undefined {
    const row = this.#scan * MOST_TRACKS;
    const { mz: peaks, intensity, count } = list;
    const tracks = this.#mz;
    const slots = this.#slot;
    const level = this.#level;
    const hits = this.#hits;
    const tracked = this.#count;
    const share = tolerance_ppm * 1e-6;
    let j = 0;
    for (let k = 0; k < tracked; k++) {
      const mz = tracks[k]!;
      const reach = share * mz;
      const low = mz - reach;
      const high = mz + reach;
      while (j < count && peaks[j]! < low) j++;
      let best = -1;
      let off = reach;
      for (let i = j; i < count && peaks[i]! <= high; i++) {
        const distance = Math.abs(peaks[i]! - mz);
        if (distance <= off) {
          off = distance;
          best = i;
        }
      }
      if (best < 0) continue;
      const slot = slots[k]!;
      level[row + slot] = intensity[best]!;
      hits[slot] = hits[slot]! + 1;
      tracks[k] = mz + FOLLOW * (peaks[best]! - mz);
    }
    if (this.#scan % OPEN_EVERY === 0) this.#open(list, tolerance_ppm, row);
    this.#scan++;
    return this.#scan === BLOCK_SCANS ? this.#close() : undefined;
  }

  /** The last block, where scans are left. */
  finish(): TrackBlock | undefined {
    return this.#scan > 0 ? this.#close() : undefined;
  }

  /** Strong peaks no track stands at get one: one merge of two rising lists. */
  #open(list: PeakList, tolerance_ppm: number, row: number): void {
    let k = 0;
    let out = 0;
    for (let s = 0; s < list.strongCount && this.#freeCount > 0; s++) {
      const i = list.strong[s]!;
      const mz = list.mz[i]!;
      const reach = tolerance_ppm * 1e-6 * mz;
      while (k < this.#count && this.#mz[k]! < mz) out = this.#carry(k++, out);
      if (out > 0 && mz - this.#spareMz[out - 1]! <= 2 * reach) continue;
      if (k < this.#count && this.#mz[k]! - mz <= 2 * reach) continue;
      const slot = this.#free[--this.#freeCount]!;
      this.#id[slot] = this.#nextId++;
      this.#hits[slot] = 1;
      this.#level[row + slot] = list.intensity[i]!;
      this.#spareMz[out] = mz;
      this.#spareSlot[out++] = slot;
    }
    while (k < this.#count) out = this.#carry(k++, out);
    this.#swap(out);
  }

  #carry(k: number, out: number): number {
    this.#spareMz[out] = this.#mz[k]!;
    this.#spareSlot[out] = this.#slot[k]!;
    return out + 1;
  }

  #swap(count: number): void {
    [this.#mz, this.#spareMz] = [this.#spareMz, this.#mz];
    [this.#slot, this.#spareSlot] = [this.#spareSlot, this.#slot];
    this.#count = count;
  }

  #close(): TrackBlock {
    const scans = this.#scan;
    const kept: number[] = [];
    for (let k = 0; k < this.#count; k++) {
      if (this.#hits[this.#slot[k]!]! >= KEPT_PRESENCE * scans) kept.push(k);
    }
    if (kept.length > MOST_KEPT) {
      const strength = new Map(kept.map((k) => [k, this.#meanLog(this.#slot[k]!, scans)]));
      kept.sort((a, b) => strength.get(b)! - strength.get(a)!);
      kept.length = MOST_KEPT;
      kept.sort((a, b) => a - b);
    }
    const log = new Float32Array(scans * kept.length);
    for (let s = 0; s < scans; s++) {
      for (let c = 0; c < kept.length; c++) {
        const level = this.#level[s * MOST_TRACKS + this.#slot[kept[c]!]!]!;
        log[s * kept.length + c] = level > 0 ? Math.log(level) : Number.NaN;
      }
    }
    const block = {
      first: this.#first,
      scans,
      ids: Int32Array.from(kept, (k) => this.#id[this.#slot[k]!]!),
      mz: Float64Array.from(kept, (k) => this.#mz[k]!),
      log,
    };
    let out = 0;
    for (let k = 0; k < this.#count; k++) {
      const slot = this.#slot[k]!;
      if (this.#hits[slot]! >= FORGOTTEN_PRESENCE * scans) out = this.#carry(k, out);
      else this.#free[this.#freeCount++] = slot;
      this.#hits[slot] = 0;
    }
    this.#swap(out);
    this.#level.fill(0, 0, scans * MOST_TRACKS);
    this.#first += scans;
    this.#scan = 0;
    return block;
  }

  #meanLog(slot: number, scans: number): number {
    let sum = 0;
    let count = 0;
    for (let s = 0; s < scans; s++) {
      const level = this.#level[s * MOST_TRACKS + slot]!;
      if (level > 0) {
        sum += Math.log(level);
        count++;
      }
    }
    return sum / count;
  }
}
