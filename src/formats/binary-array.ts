/**
 * Turns the base64 text of one stored array into numbers. The declared number of values bounds everything, and a limit
 * bounds that: text far longer than it is not collected, and packed data that give more are refused, so a small file cannot
 * fill the memory. Byte-shuffled zstd is read as the first bytes of all values, then the second ones, and so on (meaning of
 * the term MS:1003781 as read; no file of that kind was at hand).
 */
import type { Base64Text } from './base64.ts';
import type { ValueBuffer } from './ms1-spectrum.ts';
import { type NumpressKind, numpressValues } from './numpress.ts';
import type { Inflate } from './run-record.ts';
import type { WarningKey } from './warning-tally.ts';

export type NumberType = 'float32' | 'float64' | 'int32' | 'int64';
export type Compression = 'none' | 'zlib' | 'zstd' | 'zstd shuffled' | 'zstd dictionary';

/** What unpacks; without a decoder for zstd such arrays are refused by name. */
export interface Unpack {
  zlib: Inflate;
  zstd: Inflate | undefined;
}

export interface StoredArray {
  /** undefined when the file names none that is known. */
  type: NumberType | undefined;
  compression: Compression | undefined;
  /** Present where the numbers are MS-Numpress, inside the compression. */
  numpress?: NumpressKind | undefined;
  /** Declared number of values; NaN when not declared. */
  declared: number;
  little_endian: boolean;
}

export interface ArrayValues {
  count: number;
  at: (index: number) => number;
  /** The same values as one typed array where the bytes lie so; it holds until the next array is read. */
  whole?: Float64Array | Float32Array | undefined;
}

const BYTES: Record<NumberType, number> = { float32: 4, float64: 8, int32: 4, int64: 8 };
/** Most values of an array: more than any known spectrum has. */
const MOST_VALUES = 8 * 2 ** 20;
/** The same in bytes of doubles, 64 MiB. */
const LARGEST_BYTES = 8 * MOST_VALUES;
/** Bytes allowed beyond the declared length, so that a slightly longer array is told as unequal, not as damaged. */
const SLACK_BYTES = 64;
/** Base64 is 4/3 of the bytes; as much again is allowed for line breaks and indentation. */
const TEXT_PER_BYTE = 8 / 3;
const TEXT_SLACK = 65_536;

/** Most bytes of base64 text worth collecting for this array. */
export function textLimit(array: StoredArray): number {
  return Math.ceil(bytesLimit(array) * TEXT_PER_BYTE) + TEXT_SLACK;
}

/** The values, or the name of the fault that makes the array unreadable. */
export function arrayValues(
  array: StoredArray,
  text: Base64Text,
  unpack: Unpack,
): ArrayValues | { fault: WarningKey } {
  const { numpress, compression } = array;
  if (compression === 'zstd dictionary') return { fault: 'zstd_dictionary' };
  const isZstd = compression === 'zstd' || compression === 'zstd shuffled';
  if (isZstd && unpack.zstd === undefined) return { fault: 'zstd' };
  if ((array.type === undefined || array.compression === undefined) && numpress === undefined)
    return { fault: 'array_type' };
  if (array.declared > MOST_VALUES) return { fault: 'too_long' };
  if (text.overflow) return { fault: 'unequal' };
  let bytes = text.decode();
  if (bytes === undefined) return { fault: 'base64' };
  if (compression !== 'none' && bytes.length > 0) {
    try {
      bytes = (isZstd ? unpack.zstd! : unpack.zlib)(bytes, bytesLimit(array));
    } catch {
      return { fault: isZstd ? 'zstd_damaged' : 'zlib' };
    }
  }
  if (numpress !== undefined) {
    const most = Number.isNaN(array.declared) ? MOST_VALUES : array.declared + 1;
    const values = numpressValues(numpress, bytes, most);
    if (values === undefined) return { fault: 'numpress' };
    if (!Number.isNaN(array.declared) && values.length !== array.declared) return { fault: 'unequal' };
    return { count: values.length, at: (i) => values[i]!, whole: values };
  }
  if (array.type === undefined) return { fault: 'array_type' };
  const size = BYTES[array.type];
  if (bytes.length % size !== 0) return { fault: 'unequal' };
  if (compression === 'zstd shuffled') bytes = unshuffled(bytes, size);
  const count = bytes.length / size;
  if (!Number.isNaN(array.declared) && count !== array.declared) return { fault: 'unequal' };
  const whole = array.little_endian ? viewOf(array.type, bytes, count) : undefined;
  return { count, at: reader(array.type, bytes, array.little_endian), whole };
}

/** Sum of every `stride`-th value from `first` on, and whether a negative one was met. NaN spreads into the sum. */
export function sumOf(
  values: ArrayValues,
  first: number,
  stride: number,
): { sum: number; negative: boolean } {
  let sum = 0;
  let negative = false;
  const { whole } = values;
  for (let i = first; i < values.count; i += stride) {
    const value = whole ? whole[i]! : values.at(i);
    sum += value;
    if (value < 0) negative = true;
  }
  return { sum, negative };
}

function bytesLimit(array: StoredArray): number {
  if (Number.isNaN(array.declared)) return LARGEST_BYTES;
  // MS-Numpress takes up to five bytes a value, whatever type stands beside it.
  const size = array.type === undefined || array.numpress !== undefined ? 8 : BYTES[array.type];
  return Math.min(array.declared * size + SLACK_BYTES, LARGEST_BYTES);
}

function unshuffled(bytes: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(bytes.length);
  const count = bytes.length / size;
  for (let k = 0, at = 0; k < size; k += 1)
    for (let i = 0; i < count; i += 1, at += 1) out[i * size + k] = bytes[at]!;
  return out;
}

const LITTLE_ENDIAN_HERE = new Uint8Array(new Uint16Array([1]).buffer)[0] === 1;

function viewOf(type: NumberType, bytes: Uint8Array, count: number): Float64Array | Float32Array | undefined {
  if (!LITTLE_ENDIAN_HERE || bytes.byteOffset % BYTES[type] !== 0) return undefined;
  const buffer = bytes.buffer as ArrayBuffer;
  if (type === 'float64') return new Float64Array(buffer, bytes.byteOffset, count);
  return type === 'float32' ? new Float32Array(buffer, bytes.byteOffset, count) : undefined;
}

/** Copies every `stride`-th value from `first` on. */
export function copyValues(values: ArrayValues, first: number, stride: number, buffer: ValueBuffer): void {
  const out = buffer.take(Math.ceil(Math.max(0, values.count - first) / stride));
  if (values.whole && stride === 1) out.set(values.whole);
  else for (let k = 0, i = first; i < values.count; k += 1, i += stride) out[k] = values.at(i);
}

function reader(type: NumberType, bytes: Uint8Array, little: boolean): (index: number) => number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  switch (type) {
    case 'float32':
      return (i) => view.getFloat32(i * 4, little);
    case 'float64':
      return (i) => view.getFloat64(i * 8, little);
    case 'int32':
      return (i) => view.getInt32(i * 4, little);
    case 'int64':
      return (i) => Number(view.getBigInt64(i * 8, little));
  }
}
