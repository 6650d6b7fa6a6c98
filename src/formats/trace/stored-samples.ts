/**
 * Where the samples of the current stand in a file of binary samples: any stretch of it can be read again by its bytes alone,
 * without what stands before. Tables have no such places.
 */
import { SAMPLE_FORMATS, type SampleFormat } from './sample-formats.ts';

export interface StoredSamples {
  format: keyof typeof SAMPLE_FORMATS;
  /** First byte of the first frame. */
  first_byte: number;
  /** Bytes of one sample of all channels. */
  frame_bytes: number;
  /** Place of the current inside a frame. */
  at_byte: number;
  /** A = stored * scale + offset. */
  scale: number;
  offset: number;
}

/** Bytes of the samples [from, to). */
export function storedBytes(
  { first_byte, frame_bytes }: StoredSamples,
  from: number,
  to: number,
): { start: number; end: number } {
  return { start: first_byte + from * frame_bytes, end: first_byte + to * frame_bytes };
}

/** The current [A] of every whole frame in `bytes`, which begin with a frame; NaN where no number is stored. */
export function storedValues(stored: StoredSamples, bytes: ArrayBuffer, sign: 1 | -1 = 1): Float32Array {
  const { frame_bytes, at_byte, scale, offset } = stored;
  const format: SampleFormat = SAMPLE_FORMATS[stored.format];
  const view = new DataView(bytes);
  const values = new Float32Array(Math.floor(bytes.byteLength / frame_bytes));
  for (let k = 0; k < values.length; k++) {
    const value = format.read(view, k * frame_bytes + at_byte) * scale + offset;
    values[k] = Number.isFinite(value) ? sign * value : Number.NaN;
  }
  return values;
}
