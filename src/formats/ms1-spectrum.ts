import type { DecodeBase64 } from './base64.ts';
import type { Ms1Row } from './columns.ts';
import type { Inflate } from './run-record.ts';
import type { WarningKey, WarningTally } from './warning-tally.ts';

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

/** What a reader needs for the arrays of a run. */
export interface ArrayOptions {
  inflate: Inflate;
  /** Unpacks zstd where the machine can; default none: such arrays are refused by name. */
  unzstd?: Inflate | undefined;
  /** A faster decoder of base64 that gives the same answers; default `decodeInto`. */
  decodeBase64?: DecodeBase64 | undefined;
  /** Told of each MS1 spectrum whose arrays could be read, hold numbers only as intensities and are of equal length; m/z values are decoded only for it. */
  onMs1?: OnMs1 | undefined;
}

/** Hands a spectrum on, or tells why its peaks cannot be followed; faults of the intensities were told before. */
export function handOn(
  row: Ms1Row,
  index: number,
  mz: Float64Array | undefined,
  intensity: Float64Array | undefined,
  onMs1: OnMs1,
  tally: WarningTally,
): void {
  if (!intensity || (intensity.length === 0 && !mz)) return;
  if (mz?.length !== intensity.length) {
    tally.add('mz_unread');
    return;
  }
  const fault = mzFault(mz);
  if (fault !== undefined) tally.add(fault);
  onMs1({ ...row, row: index, mz, intensity, profile: row.profile === 1 });
}

function mzFault(mz: Float64Array): WarningKey | undefined {
  let before = 0;
  let falls = false;
  for (let i = 0; i < mz.length; i += 1) {
    const value = mz[i]!;
    if (!(value > 0 && value < Number.POSITIVE_INFINITY)) return 'mz_value';
    if (value < before) falls = true;
    before = value;
  }
  return falls ? 'mz_order' : undefined;
}

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
