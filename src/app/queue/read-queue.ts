/**
 * Reads the run files of a queue, several at a time. What the bench read before, by content and by the same code, is taken
 * from there, so a stopped queue goes on where it stood. A file that cannot be read is one refusal; the rest goes on.
 */
import { InputError } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import { markSameContent, type RunSummary, runSummary } from '../../evidence/queue/index.ts';
import type { QualityMetric } from '../../formats/mzqc/index.ts';
import type { Bench } from '../bench.ts';
import { fileName, type MaskSpan } from '../read-one-run.ts';
import { maker } from './maker.ts';
import {
  dated,
  type FileAsRead,
  isFacts,
  type KeepHow,
  keepBaseline,
  keepFile,
  placeOf,
  type ReadFile,
  refused,
} from './queue-file.ts';
import { fileFacts } from './read-short.ts';
import { type ReaderPool, readerPool, Stopped } from './worker-pool.ts';

export interface QueueProgress {
  files: number;
  files_done: number;
  bytes: number;
  bytes_done: number;
  /** Null until something is known. */
  seconds_left: number | null;
}

export interface ReadQueueOptions extends KeepHow {
  /** Files read at once; 0 reads in this process. */
  jobs?: number | undefined;
  signal?: AbortSignal | undefined;
  /** Stretches of run time to leave out of every file. */
  mask?: readonly MaskSpan[] | undefined;
  /** The set-up of every file: its gradient tells injection and wash. */
  setup?: Setup | undefined;
  /** Milliseconds, for the time left. Default: the computer's clock. */
  clock?: (() => number) | undefined;
  onProgress?: ((progress: QueueProgress) => void) | undefined;
  /** After each file, in their own order; waited for before the next. */
  onFile?: ((file: ReadFile) => void | Promise<void>) | undefined;
}

export interface ReadQueue {
  files: ReadFile[];
  /** Files not begun or not ended when it was stopped. */
  left: number;
}

export async function readQueue(
  paths: readonly string[],
  options: ReadQueueOptions = {},
): Promise<ReadQueue> {
  const pool = readerPool(options.jobs ?? 0, { mask: options.mask ?? [], setup: options.setup });
  const stop = () => void pool.stop();
  options.signal?.addEventListener('abort', stop);
  try {
    return await readAll(pool, paths, options);
  } finally {
    options.signal?.removeEventListener('abort', stop);
    await pool.stop();
  }
}

async function readAll(
  pool: ReaderPool,
  paths: readonly string[],
  options: ReadQueueOptions,
): Promise<ReadQueue> {
  const { bench, signal } = options;
  await keepBaseline(options);
  const standing = options.standing ?? new Set(paths.map(placeOf));
  const clock = options.clock ?? (() => performance.now());
  const sizes = bench ? await bench.store.runSizes() : new Set<number>();
  const facts = await Promise.all(paths.map((path) => fileFacts(path).catch((error: unknown) => error)));
  const bytesOf = facts.map((fact) => (isFacts(fact) ? fact.bytes : 0));
  const bytes = bytesOf.reduce((sum, one) => sum + one, 0);
  const done = paths.map(() => 0);
  const files: (ReadFile | undefined)[] = paths.map(() => undefined);
  const began = clock();
  /** Bytes that were read rather than taken from the bench: they alone tell how fast reading is. */
  let cachedBytes = 0;

  const tell = () => {
    const bytes_done = done.reduce((sum, one) => sum + one, 0);
    const read = bytes_done - cachedBytes;
    const seconds = (clock() - began) / 1000;
    options.onProgress?.({
      files: paths.length,
      files_done: files.filter(Boolean).length,
      bytes,
      bytes_done,
      seconds_left: read > 0 && seconds > 0 ? ((bytes - bytes_done) * seconds) / read : null,
    });
  };

  const readOne = async (i: number): Promise<FileAsRead> => {
    const path = paths[i]!;
    try {
      const fact = facts[i];
      if (!isFacts(fact)) throw fact;
      const cached =
        bench && sizes.has(fact.bytes) ? await fromBench(bench, pool, path, fact.bytes, options) : undefined;
      if (cached) cachedBytes += fact.bytes;
      const asRead = cached
        ? { file: cached }
        : await fresh(pool, path, (read) => {
            done[i] = Math.min(read, bytesOf[i]!);
            tell();
          });
      dated(asRead.file, fact.changed_ms);
      return asRead;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return { file: refused(path, bytesOf[i]!, error, facts[i]) };
    }
  };

  const finish = async (i: number, asRead: FileAsRead): Promise<void> => {
    const { file } = asRead;
    await keepFile(asRead, { ...options, standing });
    done[i] = bytesOf[i]!;
    files[i] = file;
    tell();
    await options.onFile?.(file);
  };

  let next = 0;
  // Files are read as readers come free and kept in their own order, so that the bench lists a night as it ran. A file
  // under way when the queue is stopped gives its turn to the next.
  let kept: Promise<void> = Promise.resolve();
  const lane = async (): Promise<void> => {
    while (next < paths.length && !signal?.aborted) {
      const i = next++;
      const reading = readOne(i);
      kept = inTurn(reading, kept, (asRead) => finish(i, asRead));
      kept.catch(() => undefined);
      await reading.catch(() => undefined);
    }
  };
  tell();
  await Promise.all(Array.from({ length: pool.lanes }, lane));
  await kept;
  const read = files.filter((file) => file !== undefined);
  markSameContent(read);
  return { files: read, left: paths.length - read.length };
}

/** Finishes what was read once everything before it is finished; what was stopped while it was read is left out. */
async function inTurn(
  reading: Promise<FileAsRead>,
  before: Promise<void>,
  finish: (asRead: FileAsRead) => Promise<void>,
): Promise<void> {
  const asRead = await reading.catch((error: unknown) => {
    if (error instanceof Stopped) return undefined;
    throw error;
  });
  await before;
  if (asRead) await finish(asRead);
}

async function fromBench(
  bench: Bench,
  pool: ReaderPool,
  path: string,
  bytes: number,
  options: ReadQueueOptions,
): Promise<ReadFile | undefined> {
  const sha256 = await pool.hash(path);
  const judged_by = maker(options.mask, options.setup);
  const short = await bench.store.shortOf(sha256, judged_by).catch((error: unknown) => {
    if (!(error instanceof InputError)) throw error;
    options.onNotKept?.(error);
    return undefined;
  });
  if (!short) return undefined;
  return {
    path,
    name: fileName(path),
    sha256,
    bytes,
    began: short.started,
    began_from: short.started === null ? null : 'run',
    refusal: null,
    summary: short.summary as RunSummary,
    metrics: short.metrics as QualityMetric[],
    format: (short.summary as RunSummary).format,
    run_id: short.run_id,
    reading_id: short.reading_id,
    same_as: null,
    judged_by,
    cached: true,
    changed_ms: null,
  };
}

async function fresh(pool: ReaderPool, path: string, onBytes: (read: number) => void): Promise<FileAsRead> {
  const run = await pool.read(path, onBytes);
  const { started } = run;
  const file: ReadFile = {
    path,
    name: run.name,
    sha256: run.sha256,
    bytes: run.bytes,
    began: started,
    began_from: started === null ? null : 'run',
    refusal: null,
    summary: runSummary(run.reading),
    metrics: run.metrics,
    format: run.reading.format,
    run_id: null,
    reading_id: null,
    same_as: null,
    judged_by: maker(run.mask, run.setup),
    cached: false,
    changed_ms: null,
  };
  return { file, run };
}
