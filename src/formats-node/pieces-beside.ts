/**
 * The bytes of a large file in pieces, read and hashed on a second thread while the pieces before are looked at here. Until that
 * thread runs the first pieces are read here, into memory that it hashes afterwards: every byte is read once.
 */
import { open } from 'node:fs/promises';
import { Worker } from 'node:worker_threads';
import { PIECE_BYTES, type Pieces, ROOM_BYTES, SLOT_BYTES } from './piece-sizes.ts';

/** Places for the pieces read here. */
const HEAD = 12;
/** Places that the thread fills by turns. */
const SLOTS = 4;

/**
 * The text of the thread, so that it runs alike from the sources, from the built package and under any test runner. `head` holds
 * one more than the number of pieces read before, zero until that is known, then their lengths. The first slots are handed on
 * before the pieces of the head are hashed; after that the thread waits on a slot while the reader still looks at it.
 */
const THREAD = `
const { openSync, readSync, closeSync } = require('node:fs');
const { parentPort, workerData } = require('node:worker_threads');
const { path, memory, head, inUse, slots, roomBytes, pieceBytes } = workerData;
const hash = require('node:crypto').createHash('sha256');
const place = (k) => new Uint8Array(memory, k * (roomBytes + pieceBytes) + roomBytes, pieceBytes);
try {
  const file = openSync(path);
  parentPort.postMessage(0);
  Atomics.wait(head, 0, 0);
  const before = head[0] - 1;
  const unhashed = [];
  let position = 0;
  for (let k = 0; k < before; k++) {
    unhashed.push(place(k).subarray(0, head[k + 1]));
    position += head[k + 1];
  }
  const hashAll = () => { for (const piece of unhashed.splice(0)) hash.update(piece); };
  for (let turn = 0; ; turn++) {
    const slot = turn % slots;
    if (turn >= slots) {
      hashAll();
      Atomics.wait(inUse, slot, 1);
    }
    const piece = place(head.length - 1 + slot);
    const bytes = readSync(file, piece, 0, pieceBytes, position);
    if (bytes === 0) break;
    position += bytes;
    Atomics.store(inUse, slot, 1);
    parentPort.postMessage(bytes);
    unhashed.push(piece.subarray(0, bytes));
  }
  hashAll();
  closeSync(file);
  parentPort.postMessage(hash.digest('hex'));
} catch ({ message, code, syscall }) {
  parentPort.postMessage({ message, code, syscall });
}
`;

/** Zero when the thread runs, then the bytes in the next slot, or the hash at the end, or what the system says. */
type FromThread = number | string | { message: string; code: string; syscall: string };

export function piecesBeside(path: string): Pieces {
  let sha256 = '';
  return {
    room: ROOM_BYTES,
    sha256: () => sha256,
    async *[Symbol.asyncIterator]() {
      const memory = new SharedArrayBuffer((HEAD + SLOTS) * SLOT_BYTES);
      const head = new Int32Array(new SharedArrayBuffer(4 * (HEAD + 1)));
      const inUse = new Int32Array(new SharedArrayBuffer(4 * SLOTS));
      const thread = mailbox(
        new Worker(THREAD, {
          eval: true,
          workerData: {
            path,
            memory,
            head,
            inUse,
            slots: SLOTS,
            roomBytes: ROOM_BYTES,
            pieceBytes: PIECE_BYTES,
          },
          execArgv: [],
        }),
      );
      const place = (k: number, bytes: number) => new Uint8Array(memory, k * SLOT_BYTES + ROOM_BYTES, bytes);
      try {
        let before = 0;
        const file = await open(path);
        try {
          while (before < HEAD && thread.isEmpty()) {
            const { bytesRead } = await file.read(place(before, PIECE_BYTES), 0, PIECE_BYTES, null);
            if (bytesRead === 0) break;
            head[before + 1] = bytesRead;
            yield place(before++, bytesRead);
          }
        } finally {
          await file.close();
        }
        Atomics.store(head, 0, before + 1);
        Atomics.notify(head, 0);
        for (let slot = 0; ; ) {
          const message = await thread.next();
          if (message === 0) continue;
          if (typeof message === 'object') throw Object.assign(new Error(message.message), message);
          if (typeof message === 'string') {
            sha256 = message;
            return;
          }
          yield place(HEAD + slot, message);
          Atomics.store(inUse, slot, 0);
          Atomics.notify(inUse, slot);
          slot = (slot + 1) % SLOTS;
        }
      } finally {
        // A thread that told the hash ends by itself.
        if (sha256 === '') await thread.terminate();
      }
    },
  };
}

/** What a thread says, one after another; its end before the last word is an error. */
function mailbox(thread: Worker) {
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
  return {
    isEmpty: () => arrived.length === 0 && failure === undefined,
    async next(): Promise<FromThread> {
      for (;;) {
        const message = arrived.shift();
        if (message !== undefined) return message;
        if (failure !== undefined) throw failure;
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
    },
    terminate: () => thread.terminate(),
  };
}
