/**
 * Writes zstd frames without compression, for the tests of the reader: one frame of raw blocks, its content size stated. Source:
 * Collet and Kucherawy, 2021, RFC 8878, sections 3.1.1 (frames) and 3.1.1.2 (blocks), from memory.
 */
const LONGEST_BLOCK = 128 * 1024;

export function zstdFrame(bytes: Uint8Array): Uint8Array {
  const head = new Uint8Array(9);
  const view = new DataView(head.buffer);
  view.setUint32(0, 0xfd2fb528, true);
  // Single segment, content size of four bytes.
  head[4] = 0xa0;
  view.setUint32(5, bytes.length, true);
  const parts: Uint8Array[] = [head];
  let at = 0;
  do {
    const block = bytes.subarray(at, at + LONGEST_BLOCK);
    at += block.length;
    const last = at >= bytes.length ? 1 : 0;
    const size = (block.length << 3) | last;
    parts.push(Uint8Array.of(size & 0xff, (size >> 8) & 0xff, size >> 16), block);
  } while (at < bytes.length);
  return Uint8Array.from(parts.flatMap((part) => [...part]));
}

/** Reads what `zstdFrame` writes; throws on anything else and beyond `most` bytes. */
export function rawFrameBytes(frame: Uint8Array, most: number): Uint8Array {
  const view = new DataView(frame.buffer, frame.byteOffset, frame.byteLength);
  if (frame.length < 12 || view.getUint32(0, true) !== 0xfd2fb528 || frame[4] !== 0xa0)
    throw new Error('no frame');
  const size = view.getUint32(5, true);
  if (size > most) throw new Error('too long');
  const out = new Uint8Array(size);
  let at = 9;
  let written = 0;
  for (;;) {
    const block = frame[at]! | (frame[at + 1]! << 8) | (frame[at + 2]! << 16);
    const length = block >> 3;
    if ((block & 6) !== 0 || at + 3 + length > frame.length || written + length > size)
      throw new Error('no block');
    out.set(frame.subarray(at + 3, at + 3 + length), written);
    written += length;
    at += 3 + length;
    if ((block & 1) === 1) break;
  }
  if (written !== size) throw new Error('cut');
  return out;
}

/** First bytes of all values, then the second ones, and so on. */
export function shuffled(bytes: Uint8Array, size: number): Uint8Array {
  const count = bytes.length / size;
  return Uint8Array.from(bytes, (_, at) => bytes[(at % count) * size + Math.floor(at / count)]!);
}
