/**
 * A number out of the bytes of a cell, without a string in between: up to 15 digits and powers of ten up to 22 are exact in
 * one multiplication (both are whole doubles); anything else goes through the language's own parser.
 */

/** What a cell that holds no number reads as; a missing value is NaN. */
export const NO_NUMBER = Number.POSITIVE_INFINITY;
/** Instruments write over-range and 'no value' as about 9.9e37. */
const OVER_RANGE = 9e36;

const POWERS = Float64Array.from({ length: 23 }, (_, k) => 10 ** k);
const ZERO = 48;
const NINE = 57;

export function numberAt(bytes: Uint8Array, from: number, to: number, decimal: number): number {
  let at = from;
  let end = to;
  while (at < end && isBlank(bytes[at]!)) at++;
  while (end > at && isBlank(bytes[end - 1]!)) end--;
  if (at === end) return Number.NaN;
  const start = at;
  let negative = false;
  if (bytes[at] === 45) {
    negative = true;
    at++;
  } else if (bytes[at] === 43) at++;
  else if (bytes[at] === 0xe2 && bytes[at + 1] === 0x88 && bytes[at + 2] === 0x92) {
    // The typeset minus sign that spreadsheets of some countries write.
    negative = true;
    at += 3;
  }
  let mantissa = 0;
  let digits = 0;
  let power = 0;
  while (at < end) {
    const byte = bytes[at]!;
    if (byte >= ZERO && byte <= NINE) {
      mantissa = mantissa * 10 + (byte - ZERO);
      digits++;
    } else break;
    at++;
  }
  if (at < end && bytes[at] === decimal) {
    at++;
    const point = at;
    while (at < end) {
      const byte = bytes[at]!;
      if (byte < ZERO || byte > NINE) break;
      mantissa = mantissa * 10 + (byte - ZERO);
      digits++;
      at++;
    }
    power = point - at;
  }
  if (digits === 0) return wordAt(bytes, start, end);
  if (at < end && (bytes[at] === 101 || bytes[at] === 69)) {
    at++;
    let down = false;
    if (bytes[at] === 45) {
      down = true;
      at++;
    } else if (bytes[at] === 43) at++;
    let exponent = 0;
    const first = at;
    while (at < end && bytes[at]! >= ZERO && bytes[at]! <= NINE)
      exponent = exponent * 10 + bytes[at++]! - ZERO;
    if (at === first) return NO_NUMBER;
    power += down ? -exponent : exponent;
  }
  if (at !== end) return wordAt(bytes, start, end);
  let value: number;
  if (digits <= 15 && power >= -22 && power <= 22)
    value = power < 0 ? mantissa / POWERS[-power]! : mantissa * POWERS[power]!;
  else value = Math.abs(Number(textAt(bytes, start, end, decimal)));
  if (value >= OVER_RANGE) return Number.NaN;
  return negative ? -value : value;
}

function isBlank(byte: number): boolean {
  return byte === 32 || byte === 34 || byte === 9 || byte === 13;
}

function textAt(bytes: Uint8Array, from: number, to: number, decimal: number): string {
  let text = '';
  for (let i = from; i < to; i++) text += bytes[i] === decimal ? '.' : String.fromCharCode(bytes[i]!);
  return text;
}

/** Words that loggers write where they have no value. */
const MISSING = /^[-+]?(nan|inf|infinity|null|none|na|n\/a|#n\/a|ol|ovl|ovld|overload|overflow|--*)$/i;

function wordAt(bytes: Uint8Array, from: number, to: number): number {
  return to - from < 12 && MISSING.test(textAt(bytes, from, to, 0)) ? Number.NaN : NO_NUMBER;
}
