/**
 * The first bytes of a file: is it XML at all, and how are its characters stored? UTF-16 is turned into UTF-8 on the way
 * in, so that everything behind sees bytes in which markup is ASCII.
 */
import { inputError } from '../core/errors.ts';

interface Decoder {
  decode(bytes?: Uint8Array, options?: { stream?: boolean }): string;
}
// Present in Node and in every browser, though not in the ES library types of a pure room.
declare const TextDecoder: new (label: string, options?: { fatal?: boolean }) => Decoder;
declare const TextEncoder: new () => { encode(text: string): Uint8Array };

export interface TextStream extends Decoder {
  /** Bytes that stored this text. */
  bytesOf(text: string): number;
}

/** Bytes needed for a judgement, unless the file is shorter. */
export const SNIFF_BYTES = 1024;

const EXPECTED = 'mzML or mzXML';
const FOREIGN: readonly (readonly [readonly number[], string])[] = [
  [[0x1f, 0x8b], 'gzip-compressed bytes inside'],
  [[0x50, 0x4b, 3, 4], 'a zip archive'],
  [[0x42, 0x5a, 0x68], 'a bzip2-compressed file'],
  [[0x28, 0xb5, 0x2f, 0xfd], 'a zstd-compressed file'],
  [[0x89, 0x48, 0x44, 0x46], 'an HDF5 file'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF document'],
  [[0xfd, 0x37, 0x7a, 0x58, 0x5a], 'an xz-compressed file'],
  [[0x37, 0x7a, 0xbc, 0xaf], 'a 7z archive'],
  [[0x53, 0x51, 0x4c, 0x69, 0x74, 0x65], 'a database file'],
  [[0x01, 0xa1, 0x46, 0x00], "an instrument's own raw file, to be converted first"],
  [[0xd0, 0xcf, 0x11, 0xe0], "a compound file, perhaps an instrument's own, to be converted first"],
];

export type Utf16 = 'utf-16le' | 'utf-16be';

/** Throws `InputError` unless the bytes begin an XML document; tells how to decode its text. `mark` is the length of a byte order mark. */
export function sniffText(start: Uint8Array): { utf16: Utf16 } | { label: string; mark: number } {
  if (start.length === 0) throw inputError('invalid', 'run file', 'an empty file', EXPECTED);
  const [a, b, c] = start;
  if (a === 0xff && b === 0xfe) return { utf16: 'utf-16le' };
  if (a === 0xfe && b === 0xff) return { utf16: 'utf-16be' };
  if (a === 0x3c && b === 0) return { utf16: 'utf-16le' };
  if (a === 0 && b === 0x3c) return { utf16: 'utf-16be' };
  for (const [magic, what] of FOREIGN) {
    if (magic.every((byte, i) => start[i] === byte)) throw inputError('invalid', 'run file', what, EXPECTED);
  }
  const marked = a === 0xef && b === 0xbb && c === 0xbf;
  const text = asciiOf(start.subarray(marked ? 3 : 0, SNIFF_BYTES)).trimStart();
  if (text === '') throw inputError('invalid', 'run file', 'nothing but blanks', EXPECTED);
  if (/^<(!doctype\s+html|html|head|body)\b/i.test(text)) {
    throw inputError('invalid', 'run file', 'an HTML page', EXPECTED);
  }
  if (!text.startsWith('<')) throw inputError('invalid', 'run file', 'not an XML document', EXPECTED);
  const declared = /^<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["']/.exec(text)?.[1] ?? 'utf-8';
  return { label: marked ? 'utf-8' : declared, mark: marked ? 3 : 0 };
}

/** A decoder for markup; an encoding that is unknown or not ASCII-like is read as ISO-8859-1, which never fails. */
export function textStream(label: string): TextStream {
  const decoder = decoderFor(label);
  const encoder = new TextEncoder();
  const wide = /^utf-?8$/i.test(label);
  return {
    decode: (bytes, options) => decoder.decode(bytes, options),
    bytesOf: (text) => (wide ? encoder.encode(text).length : text.length),
  };
}

function decoderFor(label: string): Decoder {
  try {
    // A file in UTF-16 was recognised before, so a label that says so is wrong.
    return new TextDecoder(/^(utf-?16|utf-?32|ucs|iso-10646)/i.test(label) ? 'utf-8' : label);
  } catch {
    return new TextDecoder('iso-8859-1');
  }
}

/** Turns pieces of UTF-16 into pieces of UTF-8. */
export function utf16Stream(kind: Utf16): (piece: Uint8Array) => Uint8Array {
  const decoder = new TextDecoder(kind);
  const encoder = new TextEncoder();
  return (piece) => encoder.encode(decoder.decode(piece, { stream: true }));
}

function asciiOf(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return text;
}
