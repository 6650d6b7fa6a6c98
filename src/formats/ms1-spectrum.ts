/** One MS1 spectrum handed on while its file is read; the arrays are views that hold during the call only. */
export interface Ms1Spectrum {
  /** Row of the record. */
  row: number;
  mz: Float64Array;
  /** As long as `mz`. */
  intensity: Float64Array;
  profile: boolean;
  time_s: number;
  injection_ms: number;
  /** Index into the record's analysers. */
  analyser: number;
  polarity: number;
  window_low: number;
  window_high: number;
}

export type OnMs1 = (spectrum: Ms1Spectrum) => void;

/** Values of one array in a buffer that is used again and again. */
export class ValueBuffer {
  #values = new Float64Array(4096);
  #count = -1;

  /** Forgets what it holds. */
  clear(): void {
    this.#count = -1;
  }

  /** Room for `count` values to be written. */
  take(count: number): Float64Array {
    if (count > this.#values.length)
      this.#values = new Float64Array(Math.max(count, 2 * this.#values.length));
    this.#count = count;
    return this.#values.subarray(0, count);
  }

  /** What was written last, undefined after `clear`. */
  get held(): Float64Array | undefined {
    return this.#count < 0 ? undefined : this.#values.subarray(0, this.#count);
  }
}
