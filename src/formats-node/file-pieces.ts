/**
 * The bytes of a file in pieces, with the SHA-256 of all of them. A piece holds until the next one is asked for: a few
 * buffers go round, so that no memory is taken and given back for each. A large file is read and hashed on a second
 * thread (pieces-beside.ts), while the pieces before are looked at here.
 */
import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { PIECE_BYTES, type Pieces, ROOM_BYTES, SLOT_BYTES } from './piece-sizes.ts';
import { piecesBeside } from './pieces-beside.ts';

/** Below this a second thread costs more than it saves. */
const THREAD_FROM_BYTES = 32 * 2 ** 20;

/** `bytes` is the size that the file is known to have; 0 keeps the work in this thread. */
export function filePieces(path: string, bytes: number): Pieces {
  return bytes < THREAD_FROM_BYTES ? piecesHere(path) : piecesBeside(path);
}

/** Hashes the pieces of any stream as they pass. */
export function hashedPieces(stream: AsyncIterable<Uint8Array>, room = 0): Pieces {
  const hash = createHash('sha256');
  let sha256: string | undefined;
  return {
    room,
    sha256() {
      sha256 ??= hash.digest('hex');
      return sha256;
    },
    async *[Symbol.asyncIterator]() {
      for await (const piece of stream) {
        hash.update(piece);
        yield piece;
      }
    },
  };
}

function piecesHere(path: string): Pieces {
  const source = {
    async *[Symbol.asyncIterator]() {
      const file = await open(path);
      const buffer = new Uint8Array(SLOT_BYTES).subarray(ROOM_BYTES);
      try {
        for (;;) {
          const { bytesRead } = await file.read(buffer, 0, PIECE_BYTES, null);
          if (bytesRead === 0) return;
          yield buffer.subarray(0, bytesRead);
        }
      } finally {
        await file.close();
      }
    },
  };
  return hashedPieces(source, ROOM_BYTES);
}
