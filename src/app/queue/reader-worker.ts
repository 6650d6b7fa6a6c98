/** A worker thread that reads one file after the other; the main thread keeps the bench and the order. */
import { parentPort } from 'node:worker_threads';
import { InputError } from '../../core/errors.ts';
import { fileHash, readShort } from './read-short.ts';
import type { FromWorker, ToWorker } from './worker-pool.ts';

/** Progress is told at most so often [ms], or messages would outrun the reading. */
const TELL_MS = 200;

const port = parentPort;
port?.on('message', (task: ToWorker) => {
  void work(task);
});

async function work({ id, path, want, mask, setup, beside }: ToWorker): Promise<void> {
  const tell = (message: FromWorker) => port?.postMessage(message);
  let last = 0;
  try {
    if (want === 'hash') return tell({ id, kind: 'hash', sha256: await fileHash(path) });
    const onBytes = (read: number) => {
      const now = Date.now();
      if (now - last < TELL_MS) return;
      last = now;
      tell({ id, kind: 'bytes', read });
    };
    const run = await readShort(path, { mask, setup, beside, onBytes });
    tell({ id, kind: 'run', run });
  } catch (error) {
    if (error instanceof InputError) tell({ id, kind: 'refused', faults: error.faults });
    else tell({ id, kind: 'fault', message: error instanceof Error ? error.message : String(error) });
  }
}
