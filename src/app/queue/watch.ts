/**
 * Watches a folder by looking at it again and again (shares and sleeping disks send no notices): a file is read once its
 * size and time have stayed the same for `settle_s`. What cannot be listed or read now is tried again at the next look.
 * A file that ends in its middle is taken for one still being written until it has rested for `rest_s`; then it is told
 * as broken. Restarted, it goes on from the bench: files read before are not told again, and a label has one alert.
 * Purely a sequence of looks: the caller sleeps between them, so that a test can look without waiting.
 */
import { stat } from 'node:fs/promises';
import { InputError } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import { type QueueFile, type QueueReport, queueReport } from '../../evidence/queue/index.ts';
import type { Bench } from '../bench.ts';
import { fileName, type MaskSpan } from '../read-one-run.ts';
import { runFilesOf } from './list-files.ts';
import type { ReadFile } from './queue-file.ts';
import { readQueue } from './read-queue.ts';
import { storedFiles } from './stored-queue.ts';

export interface WatchOptions {
  bench?: Bench | undefined;
  label: string;
  who?: string | undefined;
  jobs?: number | undefined;
  baseline_files?: number | undefined;
  seed?: number | undefined;
  /** A file rests when it has stayed the same for so long [s]. Default 30. */
  settle_s?: number | undefined;
  /** A file that breaks off is believed to be done when it has rested so long [s]. Default 600. */
  rest_s?: number | undefined;
  signal?: AbortSignal | undefined;
  mask?: readonly MaskSpan[] | undefined;
  /** The set-up of every file: its gradient tells injection and wash. */
  setup?: Setup | undefined;
  onFile: (file: ReadFile, report: QueueReport) => void;
  /** Once for a label. */
  onAlert: (sentence: string, report: QueueReport) => void | Promise<void>;
  /** The folder cannot be looked at now, or can again (undefined). */
  onTrouble: (reason: string | undefined) => void;
  onNotKept?: ((error: InputError) => void) | undefined;
}

export interface Watch {
  /** One look at `now_ms`; returns how many files wait to come to rest. */
  look(now_ms: number): Promise<number>;
}

interface Seen {
  bytes: number;
  changed_ms: number;
  since_ms: number;
  done: boolean;
  /** Read once, and it ended in its middle. */
  half: boolean;
}

const SETTLE_S = 30;
const REST_S = 600;

export function watchFolder(folder: string, options: WatchOptions): Watch {
  const { settle_s = SETTLE_S, rest_s = REST_S } = options;
  const seen = new Map<string, Seen>();
  /** Everything told so far, by path: the report of the queue rests on it. */
  const told = new Map<string, QueueFile>();
  let before: QueueFile[] | undefined;
  let alerted: boolean | undefined;
  let trouble: string | undefined;

  const trouble_is = (reason: string | undefined) => {
    if (reason === trouble) return;
    trouble = reason;
    options.onTrouble(reason);
  };

  return {
    async look(now_ms) {
      let paths: string[];
      try {
        paths = await runFilesOf(folder);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        trouble_is(error.message);
        return 0;
      }
      trouble_is(undefined);
      before ??= options.bench ? await storedFiles(options.bench, options.label) : [];
      alerted ??=
        options.bench !== undefined && (await options.bench.store.queueAlert(options.label)) !== undefined;

      const ready: string[] = [];
      let waiting = 0;
      for (const path of paths) {
        const found = await stat(path).catch(() => undefined);
        if (!found) continue;
        const last = seen.get(path);
        if (!last || last.bytes !== found.size || last.changed_ms !== found.mtimeMs) {
          // A file that was old when first seen rests already; one that changes starts its rest anew.
          const since_ms = last ? now_ms : Math.min(now_ms, Math.max(found.mtimeMs, now_ms - 1000 * rest_s));
          seen.set(path, {
            bytes: found.size,
            changed_ms: found.mtimeMs,
            since_ms,
            done: known(path, found.size),
            half: false,
          });
        }
        const now = seen.get(path)!;
        if (now.done) continue;
        const rest_ms = 1000 * (now.half ? rest_s : settle_s);
        if (found.size > 0 && now_ms - now.since_ms >= rest_ms) ready.push(path);
        else waiting++;
      }
      if (ready.length > 0) waiting += await read(ready, now_ms);
      return waiting;
    },
  };

  /** Read and kept under this label before: the name and the length say so, without reading a full disk again. */
  function known(path: string, bytes: number): boolean {
    const name = fileName(path);
    return before!.some((file) => file.name === name && file.bytes === bytes && file.summary !== null);
  }

  function rested(path: string, now_ms: number): boolean {
    return now_ms - seen.get(path)!.since_ms >= 1000 * rest_s;
  }

  function isHalf(file: ReadFile): boolean {
    return !file.cached && (file.summary === null || file.summary.broken !== null);
  }

  async function read(paths: string[], now_ms: number): Promise<number> {
    let waiting = 0;
    const outcomes: ReadFile[] = [];
    await readQueue(paths, {
      bench: options.bench,
      label: options.label,
      who: options.who,
      jobs: options.jobs,
      signal: options.signal,
      mask: options.mask,
      setup: options.setup,
      onNotKept: options.onNotKept,
      keep: (file) => !isHalf(file) || rested(file.path, now_ms),
      onFile: (file) => outcomes.push(file),
    });
    outcomes.sort((a, b) => paths.indexOf(a.path) - paths.indexOf(b.path));
    for (const file of outcomes) {
      const state = seen.get(file.path)!;
      const found = await stat(file.path).catch(() => undefined);
      const grew = !found || found.size !== state.bytes || found.mtimeMs !== state.changed_ms;
      if (grew || (isHalf(file) && !rested(file.path, now_ms))) {
        state.half = isHalf(file);
        waiting++;
        continue;
      }
      state.done = true;
      told.set(file.path, file);
      options.onFile(file, report());
      await warn();
    }
    return waiting;
  }

  function report(): QueueReport {
    const fresh = [...told.values()];
    const names = new Set(fresh.map((file) => file.sha256));
    const old = before!.filter((file) => !names.has(file.sha256));
    return queueReport([...old, ...fresh], {
      label: options.label,
      baseline_files: options.baseline_files,
      seed: options.seed,
    });
  }

  async function warn(): Promise<void> {
    if (alerted) return;
    const now = report();
    if (now.warning.alarm === null) return;
    alerted = true;
    const { bench } = options;
    const sentence = now.warning.sentence;
    if (bench) {
      const alert = { label: options.label, raised_at: bench.stamp('').when, sentence };
      try {
        // Another watcher of the same label may have been first.
        if (!(await bench.store.addAlert(alert))) return;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        options.onNotKept?.(error);
      }
    }
    await options.onAlert(sentence, now);
  }
}
