import { describe, expect, it } from 'vitest';
import { filePieces } from './file-pieces.ts';

const BYTES = 700_001;
const content = Uint8Array.from({ length: BYTES }, (_, k) => (k * 31) % 251);

async function whole(file: Blob): Promise<{ pieces: number; bytes: Uint8Array }> {
  const bytes = new Uint8Array(BYTES);
  const source = filePieces(file);
  let at = 0;
  let pieces = 0;
  for (let piece = await source.next(); piece !== undefined; piece = await source.next()) {
    bytes.set(piece, at);
    at += piece.length;
    pieces++;
  }
  expect(at).toBe(BYTES);
  return { pieces, bytes };
}

/** A blob whose stream hands on its own chunks only. */
function plainBlob(): Blob {
  const stream = () =>
    new ReadableStream<Uint8Array>({
      start(controller) {
        controller.enqueue(content.subarray(0, 500_000));
        controller.enqueue(content.subarray(500_000));
        controller.close();
      },
    });
  return Object.assign(new Blob([]), { stream });
}

describe('the pieces of a file', () => {
  it.each([
    ['read into one buffer', () => new Blob([content])],
    ['cut from chunks', plainBlob],
  ])('are the file, %s', async (_, file) => {
    const { pieces, bytes } = await whole(file());
    expect(pieces).toBeGreaterThan(5);
    expect(Buffer.compare(bytes, content)).toBe(0);
  });
});
