/** Text of a table's first lines: UTF-8, or the Latin-1 family that older loggers write (their µ and ° are no UTF-8). */
interface Decoder {
  decode(bytes: Uint8Array): string;
}
// Present in Node and in every browser, though not in the ES library types of a pure room.
declare const TextDecoder: new (label: string, options?: { fatal?: boolean }) => Decoder;
declare const TextEncoder: new () => { encode(text: string): Uint8Array };

export function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('iso-8859-1').decode(bytes);
  }
}

/** Whole lines of a file's first bytes: a character may be cut at the end. */
export function linesOf(bytes: Uint8Array, whole = false): string[] {
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const last = Math.max(bytes.lastIndexOf(10), bytes.lastIndexOf(13));
  const end = whole || last < 0 ? bytes.length : last;
  return textOf(bytes.subarray(mark, Math.max(mark, end))).split(/\r\n|\n|\r/);
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}
