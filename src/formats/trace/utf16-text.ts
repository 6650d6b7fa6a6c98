/**
 * Text of a table in UTF-16, as spreadsheets and some loggers save 'Unicode text': told by its mark, or without one by letters whose every second
 * byte is nothing. It is turned into UTF-8 on the way in, so that everything behind sees one encoding.
 */
import { type Utf16, utf16Stream } from '../text-encoding.ts';

/** Letters looked at; so few are no proof. */
const LETTERS = 128;
const LEAST_LETTERS = 8;

export function utf16Kind(head: Uint8Array): Utf16 | undefined {
  const [a, b] = head;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (isText(head, 0)) return 'utf-16le';
  return isText(head, 1) ? 'utf-16be' : undefined;
}

/** The first bytes of a file as UTF-8, whatever they are in. */
export function utf8Head(head: Uint8Array): Uint8Array {
  const kind = utf16Kind(head);
  return kind === undefined ? head : utf16Stream(kind)(head);
}

/** Samples of 16 bits never are printed letters only, with lines among them. */
function isText(head: Uint8Array, low: 0 | 1): boolean {
  const letters = Math.min(LETTERS, head.length >> 1);
  let lines = 0;
  for (let k = 0; k < letters; k++) {
    const byte = head[2 * k + low]!;
    if (head[2 * k + 1 - low] !== 0) return false;
    if (byte === 10 || byte === 13) lines++;
    else if (byte !== 9 && (byte < 32 || (byte > 126 && byte < 160))) return false;
  }
  return letters >= LEAST_LETTERS && lines > 0;
}
