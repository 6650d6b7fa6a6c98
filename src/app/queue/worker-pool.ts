/**
 * Worker threads for reading files, one file each at a time. A worker that dies (out of memory on a hostile file) costs
 * that file one line and is replaced. From the sources, where Node cannot start a worker from TypeScript, and with no
 * workers asked for, the same work is done in this process.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { type Fault, InputError, inputError } from '../../core/errors.ts';
import type { RunAsRead } from '../read-one-run.ts';
import { fileHash, type ReadWith, readShort } from './read-short.ts';

export interface ToWorker extends ReadWith {
  id: number;
  path: string;
  want: 'hash' | 'read';
  beside: boolean;
}

export type FromWorker =
  | { id: number; kind: 'bytes'; read: number }
  | { id: number; kind: 'hash'; sha256: string }
  | { id: number; kind: 'run'; run: RunAsRead }
  | { id: number; kind: 'refused'; faults: readonly Fault[] }
  | { id: number; kind: 'fault'; message: string };

export interface ReaderPool {
  /** How many files to ask for at once: one more than are read, so that no worker waits while a reading is kept. */
  readonly lanes: number;
  hash(path: string): Promise<string>;
  read(path: string, onBytes: (read: number) => void): Promise<RunAsRead>;
  /** Ends every worker at once; what is under way rejects with `Stopped`. */
  stop(): Promise<void>;
}

export class Stopped extends Error {
  constructor() {
    super('stopped');
    this.name = 'Stopped';
  }
}

/** Heap of one worker [MB]: far above what a run needs, far below what would take the computer down. */
const WORKER_HEAP_MB = 2048;

export function readerPool(workers: number, how: ReadWith): ReaderPool {
  const built = import.meta.url.endsWith('.js');
  return built && workers > 0 ? threads(workers, how) : here(how);
}

function here(how: ReadWith): ReaderPool {
  let stopped = false;
  const check = () => {
    if (stopped) throw new Stopped();
  };
  return {
    lanes: 1,
    hash: async (path) => {
      check();
      return fileHash(path);
    },
    read: (path, onBytes) => {
      check();
      const told = (read: number) => {
        check();
        onBytes(read);
      };
      return readShort(path, { ...how, beside: true, onBytes: told });
    },
    stop: async () => {
      stopped = true;
    },
  };
}

interface Task {
  message: ToWorker;
  onBytes: (read: number) => void;
  resolve: (answer: FromWorker) => void;
  reject: (error: unknown) => void;
}

function threads(size: number, how: ReadWith): ReaderPool {
  const waiting: Task[] = [];
  const idle: Worker[] = [];
  const busy = new Map<Worker, Task>();
  // Where every processor has its reader, further threads would only take turns with them.
  const beside = size < availableParallelism();
  let made = 0;
  let stopped = false;
  let count = 0;

  const start = (): Worker => {
    made++;
    const worker = new Worker(new URL('./reader-worker.js', import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: WORKER_HEAP_MB },
    });
    worker.on('message', (answer: FromWorker) => {
      const task = busy.get(worker);
      if (!task || task.message.id !== answer.id) return;
      if (answer.kind === 'bytes') return task.onBytes(answer.read);
      busy.delete(worker);
      idle.push(worker);
      if (answer.kind === 'refused') task.reject(new InputError(answer.faults));
      else if (answer.kind === 'fault') task.reject(unexpected(answer.message));
      else task.resolve(answer);
      next();
    });
    worker.on('error', (error) => lost(worker, error instanceof Error ? error.message : String(error)));
    worker.on('exit', () => lost(worker, 'its reader ended'));
    return worker;
  };
  const lost = (worker: Worker, why: string) => {
    const task = busy.get(worker);
    busy.delete(worker);
    const at = idle.indexOf(worker);
    if (at >= 0) idle.splice(at, 1);
    if (task) {
      made--;
      task.reject(stopped ? new Stopped() : unexpected(why));
      next();
    } else if (at >= 0) made--;
  };
  const next = () => {
    while (!stopped && waiting.length > 0) {
      const worker = idle.pop() ?? (made < size ? start() : undefined);
      if (!worker) return;
      const task = waiting.shift()!;
      busy.set(worker, task);
      worker.postMessage(task.message);
    }
  };
  const ask = (path: string, want: ToWorker['want'], onBytes: Task['onBytes']): Promise<FromWorker> =>
    new Promise((resolve, reject) => {
      if (stopped) return reject(new Stopped());
      waiting.push({ message: { id: count++, path, want, ...how, beside }, onBytes, resolve, reject });
      next();
    });
  return {
    lanes: size + 1,
    hash: async (path) => {
      const answer = await ask(path, 'hash', () => {});
      if (answer.kind !== 'hash') throw unexpected(answer.kind);
      return answer.sha256;
    },
    read: async (path, onBytes) => {
      const answer = await ask(path, 'read', onBytes);
      if (answer.kind !== 'run') throw unexpected(answer.kind);
      return answer.run;
    },
    stop: async () => {
      stopped = true;
      for (const task of waiting.splice(0)) task.reject(new Stopped());
      await Promise.all([...idle, ...busy.keys()].map((worker) => worker.terminate()));
    },
  };
}

/** A fault of ours on one file must not end a night's reading: it becomes that file's line. */
function unexpected(message: string): InputError {
  return inputError(
    'invalid',
    'run file',
    `reading it failed (${message.split('\n')[0]?.slice(0, 200)})`,
    'a file this program can read; please report it',
  );
}
