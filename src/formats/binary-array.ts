/**
 * Turns the base64 text of one stored array into numbers. The declared number of values bounds everything: text far
 * longer than it is not collected, and zlib data that unpack to more are refused, so a small file cannot fill the memory.
 */
import type { Base64Text } from './base64.ts';
import type { Inflate } from './run-record.ts';
import type { WarningKey } from './warning-tally.ts';

export type NumberType = 'float32' | 'float64' | 'int32' | 'int64';
export type Compression = 'none' | 'zlib' | 'numpress' | 'zstd';

export interface StoredArray {
  /** undefined when the file names none that is known. */
  type: NumberType | undefined;
  compression: Compression | undefined;
  /** Declared number of values; NaN when not declared. */
  declared: number;
  little_endian: boolean;
}

export interface ArrayValues {
  count: number;
  at: (index: number) => number;
}

const BYTES: Record<NumberType, number> = { float32: 4, float64: 8, int32: 4, int64: 8 };
/** Most bytes of an array whose length is not declared, 64 MiB: 8 million doubles, more than any known spectrum. */
const UNDECLARED_BYTES = 64 * 2 ** 20;
/** Most bytes of any array, 512 MiB. */
const LARGEST_BYTES = 512 * 2 ** 20;
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
  inflate: Inflate,
): ArrayValues | { fault: WarningKey } {
  if (array.compression === 'numpress' || array.compression === 'zstd') return { fault: array.compression };
  if (array.type === undefined || array.compression === undefined) return { fault: 'array_type' };
  if (text.overflow) return { fault: 'unequal' };
  let bytes = text.decode();
  if (bytes === undefined) return { fault: 'base64' };
  if (array.compression === 'zlib' && bytes.length > 0) {
    try {
      bytes = inflate(bytes, bytesLimit(array));
    } catch {
      return { fault: 'zlib' };
    }
  }
  const size = BYTES[array.type];
  if (bytes.length % size !== 0) return { fault: 'unequal' };
  const count = bytes.length / size;
  if (!Number.isNaN(array.declared) && count !== array.declared) return { fault: 'unequal' };
  return { count, at: reader(array.type, bytes, array.little_endian) };
}

/** Sum of every `stride`-th value from `first` on, and whether a negative one was met. NaN spreads into the sum. */
export function sumOf(
  values: ArrayValues,
  first: number,
  stride: number,
): { sum: number; negative: boolean } {
  let sum = 0;
  let negative = false;
  for (let i = first; i < values.count; i += stride) {
    const value = values.at(i);
    sum += value;
    if (value < 0) negative = true;
  }
  return { sum, negative };
}

function bytesLimit(array: StoredArray): number {
  if (Number.isNaN(array.declared)) return UNDECLARED_BYTES;
  const size = array.type === undefined ? 8 : BYTES[array.type];
  return Math.min(array.declared * size + SLACK_BYTES, LARGEST_BYTES);
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
