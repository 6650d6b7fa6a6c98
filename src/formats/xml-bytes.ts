/** Questions asked of the raw bytes of an XML document, where all markup is ASCII. */
export const LESS = 0x3c;
const GREATER = 0x3e;
const SLASH = 0x2f;
const COLON = 0x3a;
const EQUALS = 0x3d;
const AMPERSAND = 0x26;
export const BANG = 0x21;
export const QUESTION = 0x3f;
const DOUBLE_QUOTE = 0x22;
const SINGLE_QUOTE = 0x27;
export const LETTER_D = 0x64;
export const COMMENT_OPEN = ascii('<!--');
export const CDATA_OPEN = ascii('<![CDATA[');
export const COMMENT_CLOSE = ascii('-->');
export const CDATA_CLOSE = ascii(']]>');
export const PI_CLOSE = ascii('?>');
const ARRAY_NAMES = [ascii('binary'), ascii('peaks')];
const SPECTRUM = ascii('<spectrum ');
const OFFSET_OPEN = ascii('<offset ');
const OFFSET_CLOSE = ascii('</offset>');

export function isSpectrum(bytes: Uint8Array, open: number): boolean {
  return stands(bytes, SPECTRUM, open);
}

export function isOffset(bytes: Uint8Array, open: number): boolean {
  return stands(bytes, OFFSET_OPEN, open);
}

/**
 * Place behind the elements of an index that stand whole and plain from `open` on (one attribute, a whole number), with the
 * blanks behind them; `open` itself where none stands. No reader heeds them, and they are a twentieth of all tags.
 */
export function afterOffsets(bytes: Uint8Array, open: number): number {
  for (let at = open; ; ) {
    const end = afterOffset(bytes, at);
    if (end < 0) return at;
    at = end;
    while (isBlank(bytes[at])) at += 1;
  }
}

function afterOffset(bytes: Uint8Array, open: number): number {
  let at = open + OFFSET_OPEN.length;
  if (!stands(bytes, OFFSET_OPEN, open)) return -1;
  const name = at;
  while (isLetter(bytes[at])) at += 1;
  if (at === name || bytes[at] !== EQUALS || bytes[at + 1] !== DOUBLE_QUOTE) return -1;
  at += 2;
  for (; bytes[at] !== DOUBLE_QUOTE; at += 1) {
    const byte = bytes[at];
    if (byte === undefined || byte < 0x20 || byte > 0x7e || byte === LESS || byte === AMPERSAND) return -1;
  }
  if (bytes[at + 1] !== GREATER) return -1;
  at += 2;
  while (isDigit(bytes[at])) at += 1;
  return stands(bytes, OFFSET_CLOSE, at) ? at + OFFSET_CLOSE.length : -1;
}

function stands(bytes: Uint8Array, wanted: Uint8Array, at: number): boolean {
  for (let i = 0; i < wanted.length; i += 1) if (bytes[at + i] !== wanted[i]) return false;
  return true;
}

function isLetter(byte: number | undefined): boolean {
  return byte !== undefined && ((byte >= 0x41 && byte <= 0x5a) || (byte >= 0x61 && byte <= 0x7a));
}

function isDigit(byte: number | undefined): boolean {
  return byte !== undefined && byte >= 0x30 && byte <= 0x39;
}

export function isBlank(byte: number | undefined): boolean {
  return byte === 0x20 || byte === 0x0a || byte === 0x09 || byte === 0x0d;
}

export function visible(bytes: Uint8Array): number {
  let count = 0;
  for (const byte of bytes) if (byte > 0x20 || byte === 0) count += 1;
  return count;
}

export function declarationAt(bytes: Uint8Array, at: number): 'comment' | 'cdata' | 'other' | undefined {
  for (const [open, kind] of [
    [COMMENT_OPEN, 'comment'],
    [CDATA_OPEN, 'cdata'],
  ] as const) {
    let same = 0;
    while (same < open.length && bytes[at + same] === open[same]) same += 1;
    if (same === open.length) return kind;
    if (at + same >= bytes.length) return undefined;
  }
  return 'other';
}

/** The opening tag of an array element at `open`: where it ends, undefined when it is another tag, 'more' when cut. */
export function arrayTag(
  bytes: Uint8Array,
  open: number,
): { end: number; empty: boolean } | 'more' | undefined {
  const n = bytes.length;
  let start = open + 1;
  let at = start;
  for (; at < n; at += 1) {
    const byte = bytes[at]!;
    if (byte === COLON) start = at + 1;
    else if (byte <= 0x20 || byte === GREATER || byte === SLASH) break;
  }
  if (at >= n) return 'more';
  if (!ARRAY_NAMES.some((name) => name.length === at - start && name.every((b, i) => bytes[start + i] === b)))
    return undefined;
  let quote = 0;
  for (; at < n; at += 1) {
    const byte = bytes[at]!;
    if (quote !== 0) {
      if (byte === quote) quote = 0;
    } else if (byte === DOUBLE_QUOTE || byte === SINGLE_QUOTE) quote = byte;
    else if (byte === GREATER) return { end: at + 1, empty: bytes[at - 1] === SLASH };
  }
  return 'more';
}

export function indexOfAll(bytes: Uint8Array, wanted: Uint8Array, from: number): number {
  let at = bytes.indexOf(wanted[0]!, from);
  while (at >= 0) {
    if (at + wanted.length > bytes.length) return -1;
    if (wanted.every((byte, i) => bytes[at + i] === byte)) return at;
    at = bytes.indexOf(wanted[0]!, at + 1);
  }
  return -1;
}

export function ascii(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i += 1) bytes[i] = Math.min(text.charCodeAt(i), 255);
  return bytes;
}
