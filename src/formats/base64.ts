/**
 * Base64 straight from the bytes of a file into a buffer that is used again and again. White space is allowed anywhere;
 * any other foreign byte, a lone last character or data after the padding refuses the whole text.
 */
const BAD = 255;
const SPACE = 254;
const PAD = 253;

/** Decodes `length` bytes of base64 text into `out`; returns the number of bytes written or -1 for foreign text. */
export type DecodeBase64 = (text: Uint8Array, length: number, out: Uint8Array) => number;

/** Collects the text of one array across the pieces in which it arrives, up to a limit. */
export class Base64Text {
  length = 0;
  /** True when more arrived than the limit allows; the surplus is dropped. */
  overflow = false;
  #limit = 0;
  #bytes = new Uint8Array(65_536);
  #decoded = new Uint8Array(49_152);
  readonly #decode: DecodeBase64;

  constructor(decode: DecodeBase64 = decodeInto) {
    this.#decode = decode;
  }

  start(limit: number): void {
    this.length = 0;
    this.overflow = false;
    this.#limit = limit;
  }

  append(piece: Uint8Array): void {
    const end = this.length + piece.length;
    if (this.overflow || end > this.#limit) {
      this.overflow = true;
      return;
    }
    if (end > this.#bytes.length) {
      const wider = new Uint8Array(Math.max(end, this.#bytes.length * 2));
      wider.set(this.#bytes.subarray(0, this.length));
      this.#bytes = wider;
    }
    this.#bytes.set(piece, this.length);
    this.length = end;
  }

  /** The decoded bytes, valid until the next call; undefined when the text is not base64. */
  decode(): Uint8Array | undefined {
    const room = Math.ceil(this.length / 4) * 3;
    if (room > this.#decoded.length) this.#decoded = new Uint8Array(Math.max(room, this.#decoded.length * 2));
    const count = this.#decode(this.#bytes, this.length, this.#decoded);
    return count < 0 ? undefined : this.#decoded.subarray(0, count);
  }
}

export function decodeInto(text: Uint8Array, length: number, out: Uint8Array): number {
  let at = 0;
  let written = 0;
  // Whole groups of four, as long as nothing but base64 digits comes.
  while (at + 4 <= length) {
    const a = DIGITS[text[at]!]!;
    const b = DIGITS[text[at + 1]!]!;
    const c = DIGITS[text[at + 2]!]!;
    const d = DIGITS[text[at + 3]!]!;
    if ((a | b | c | d) > 63) break;
    const bits = (a << 18) | (b << 12) | (c << 6) | d;
    out[written] = bits >> 16;
    out[written + 1] = bits >> 8;
    out[written + 2] = bits;
    at += 4;
    written += 3;
  }
  // The rest, digit by digit: white space, padding, a text broken into lines.
  let bits = 0;
  let digits = 0;
  let padding = 0;
  for (; at < length; at += 1) {
    const digit = DIGITS[text[at]!]!;
    if (digit === SPACE) continue;
    if (digit === PAD) {
      padding += 1;
      continue;
    }
    if (digit === BAD || padding > 0) return -1;
    bits = (bits << 6) | digit;
    digits += 1;
    if (digits === 4) {
      out[written] = bits >> 16;
      out[written + 1] = bits >> 8;
      out[written + 2] = bits;
      written += 3;
      bits = 0;
      digits = 0;
    }
  }
  if (digits === 1 || padding > 2 || (padding > 0 && digits + padding !== 4)) return -1;
  if (digits === 2) {
    out[written] = bits >> 4;
    written += 1;
  } else if (digits === 3) {
    out[written] = bits >> 10;
    out[written + 1] = bits >> 2;
    written += 2;
  }
  return written;
}

const DIGITS = digitTable();

function digitTable(): Uint8Array {
  const table = new Uint8Array(256).fill(BAD);
  const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
  for (let i = 0; i < alphabet.length; i += 1) table[alphabet.charCodeAt(i)] = i;
  for (const space of [9, 10, 13, 32]) table[space] = SPACE;
  table[61] = PAD;
  return table;
}
