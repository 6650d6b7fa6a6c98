/**
 * The bytes of a file in pieces, with the SHA-256 of all of them. A piece holds until the next one is asked for: a few
 * buffers go round, so that no memory is taken and given back for each. A large file is read and hashed on a second
 * thread, while the pieces before are looked at here.
 */
import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { Worker } from 'node:worker_threads';

export interface Pieces extends AsyncIterable<Uint8Array> {
  /** Of all pieces, hexadecimal; known once the last one was taken. */
  sha256(): string;
}

/** Below this a second thread costs more than it saves. */
const THREAD_FROM_BYTES = 32 * 2 ** 20;
const PIECE_BYTES = 2 ** 20;
/** Places in the shared memory that the thread fills by turns. */
const SLOTS = 4;

/**
 * The text of the thread, so that it runs alike from the sources, from the built package and under any test runner. It waits
 * on a slot while the reader still looks at it.
 */
const THREAD = `
const { openSync, readSync, closeSync } = require('node:fs');
const { parentPort, workerData } = require('node:worker_threads');
const { path, memory, inUse, slots, slotBytes } = workerData;
const hash = require('node:crypto').createHash('sha256');
try {
  const file = openSync(path);
  for (let slot = 0; ; slot = (slot + 1) % slots) {
    Atomics.wait(inUse, slot, 1);
    const piece = new Uint8Array(memory, slot * slotBytes, slotBytes);
    const bytes = readSync(file, piece);
    if (bytes === 0) break;
    hash.update(piece.subarray(0, bytes));
    Atomics.store(inUse, slot, 1);
    parentPort.postMessage(bytes);
  }
  closeSync(file);
  parentPort.postMessage(hash.digest('hex'));
} catch ({ message, code, syscall }) {
  parentPort.postMessage({ message, code, syscall });
}
`;

/** Bytes in the next slot, or the hash at the end, or what the system says. */
type FromThread = number | string | { message: string; code: string; syscall: string };

/** `bytes` is the size that the file is known to have. */
export function filePieces(path: string, bytes: number): Pieces {
  return bytes < THREAD_FROM_BYTES ? piecesHere(path) : piecesBeside(path);
}

/** Hashes the pieces of any stream as they pass. */
export function hashedPieces(stream: AsyncIterable<Uint8Array>): Pieces {
  const hash = createHash('sha256');
  let sha256: string | undefined;
  return {
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
  return hashedPieces({
    async *[Symbol.asyncIterator]() {
      const file = await open(path);
      const buffer = new Uint8Array(PIECE_BYTES);
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
  });
}

function piecesBeside(path: string): Pieces {
  let sha256 = '';
  return {
    sha256: () => sha256,
    async *[Symbol.asyncIterator]() {
      const memory = new SharedArrayBuffer(SLOTS * PIECE_BYTES);
      const inUse = new Int32Array(new SharedArrayBuffer(4 * SLOTS));
      const workerData = { path, memory, inUse, slots: SLOTS, slotBytes: PIECE_BYTES };
      const thread = new Worker(THREAD, { eval: true, workerData, execArgv: [] });
      const arrived: FromThread[] = [];
      let failure: Error | undefined;
      let wake: (() => void) | undefined;
      const settle = () => {
        wake?.();
        wake = undefined;
      };
      thread.on('message', (message: FromThread) => {
        arrived.push(message);
        settle();
      });
      thread.on('error', (error) => {
        failure = error;
        settle();
      });
      thread.on('exit', () => {
        failure ??= new Error('the thread that reads the file ended early');
        settle();
      });
      let slot = 0;
      try {
        for (;;) {
          const message = arrived.shift();
          if (message === undefined) {
            if (failure !== undefined) throw failure;
            await new Promise<void>((resolve) => {
              wake = resolve;
            });
            continue;
          }
          if (typeof message === 'object') throw Object.assign(new Error(message.message), message);
          if (typeof message === 'string') {
            sha256 = message;
            return;
          }
          yield new Uint8Array(memory, slot * PIECE_BYTES, message);
          Atomics.store(inUse, slot, 0);
          Atomics.notify(inUse, slot);
          slot = (slot + 1) % SLOTS;
        }
      } finally {
        await thread.terminate();
      }
    },
  };
}
