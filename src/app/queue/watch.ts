/**
 * Watches a folder by looking at it again and again (shares and sleeping disks send no notices): a file is read once its
 * size and time have stayed the same for `settle_s`. What cannot be listed or read now is tried again at the next look.
 * A file that ends in its middle is taken for one still being written until it has rested for `rest_s`; then it is told
 * as broken; a file the disk does not hand over is tried as long. Restarted, it goes on from the bench: files judged before in the same way are not told again, and a label has one
 * alert. What was judged in another way (another set-up, other minutes left out, another version) is judged and told anew.
 * Purely a sequence of looks: the caller sleeps between them, so that a test can look without waiting.
 */
import { stat } from 'node:fs/promises';
import { InputError } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import { type QueueFile, type QueueReport, queueReport } from '../../evidence/queue/index.ts';
import type { Bench } from '../bench.ts';
import type { MaskSpan } from '../read-one-run.ts';
import { runFilesOf } from './list-files.ts';
import { maker } from './maker.ts';
import { placeOf, type ReadFile } from './queue-file.ts';
import { readQueue } from './read-queue.ts';
import { type StoredFile, storedPlaces } from './stored-queue.ts';

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
  /** At the first look: so many files that lie there were judged in another way before and are judged anew. */
  onJudgedAnew?: ((files: number) => void) | undefined;
  onNotKept?: ((error: InputError) => void) | undefined;
  /** Reads what has come to rest. Default `readQueue`; another one stands in for a disk that fails. */
  read?: typeof readQueue | undefined;
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
  /** Since when the disk has not handed it over: asleep, or a share gone; null while it does. */
  silent_since_ms: number | null;
}

/** Refusals that tell of the disk and not of the file: worth another try. */
const SILENT = /a read error \(|^missing run file/;

const SETTLE_S = 30;
const REST_S = 600;

export function watchFolder(folder: string, options: WatchOptions): Watch {
  const { settle_s = SETTLE_S, rest_s = REST_S } = options;
  const seen = new Map<string, Seen>();
  /** Everything told so far, by path: the report of the queue rests on it. */
  const told = new Map<string, QueueFile>();
  const judged_by = maker(options.mask, options.setup);
  let before: StoredFile[] | undefined;
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
      const first = before === undefined;
      if (!before) {
        before = options.bench ? await storedPlaces(options.bench, options.label) : [];
        tellJudgedAnew(paths, before);
      }
      alerted ??=
        options.bench !== undefined && (await options.bench.store.queueAlert(options.label)) !== undefined;

      const ready: string[] = [];
      let waiting = 0;
      for (const path of paths) {
        const found = await stat(path).catch(() => undefined);
        if (!found) continue;
        const last = seen.get(path);
        if (!last || last.bytes !== found.size || last.changed_ms !== found.mtimeMs) {
          // A file that lay there before the watch rests since its own time. One that comes or changes starts its rest now: a
          // copy under way may carry the time of its original.
          const since_ms = first ? Math.min(now_ms, Math.max(found.mtimeMs, now_ms - 1000 * rest_s)) : now_ms;
          seen.set(path, {
            bytes: found.size,
            changed_ms: found.mtimeMs,
            since_ms,
            done: known(path, found.size, found.mtimeMs),
            half: false,
            silent_since_ms: null,
          });
        }
        const now = seen.get(path)!;
        if (now.done) continue;
        const rest_ms = 1000 * (now.half ? rest_s : settle_s);
        if (found.size > 0 && now_ms - now.since_ms >= rest_ms) ready.push(path);
        else waiting++;
      }
      if (ready.length > 0) waiting += await read(ready, paths, now_ms);
      return waiting;
    },
  };

  /** The file as the label holds it, told by place, length and time without reading a full disk again. */
  function keptOf(path: string, bytes: number, changed_ms: number): QueueFile | undefined {
    const place = placeOf(path);
    return before!.find(
      (one) => one.place === place && one.file.bytes === bytes && one.changed_ms === changed_ms,
    )?.file;
  }

  function known(path: string, bytes: number, changed_ms: number): boolean {
    const kept = keptOf(path, bytes, changed_ms);
    return kept !== undefined && kept.summary !== null && kept.judged_by === judged_by;
  }

  function tellJudgedAnew(paths: readonly string[], kept: readonly StoredFile[]): void {
    const places = new Set(paths.map(placeOf));
    const otherwise = kept.filter(
      ({ place, file }) =>
        place !== null && places.has(place) && file.summary !== null && file.judged_by !== judged_by,
    );
    if (otherwise.length > 0) options.onJudgedAnew?.(otherwise.length);
  }

  /** Time enough to believe what was found: the file rested so long, and its disk was given as long to answer. */
  function rested({ path, refusal }: ReadFile, now_ms: number): boolean {
    const { since_ms, silent_since_ms } = seen.get(path)!;
    const from_ms = refusal !== null && SILENT.test(refusal) ? (silent_since_ms ?? now_ms) : since_ms;
    return now_ms - from_ms >= 1000 * rest_s;
  }

  function isHalf(file: ReadFile): boolean {
    return !file.cached && (file.summary === null || file.summary.broken !== null);
  }

  async function read(ready: string[], present: readonly string[], now_ms: number): Promise<number> {
    let waiting = ready.length;
    const one = async (file: ReadFile): Promise<void> => {
      const state = seen.get(file.path)!;
      const found = await stat(file.path).catch(() => undefined);
      const grew = !found || found.size !== state.bytes || found.mtimeMs !== state.changed_ms;
      const silent = file.refusal !== null && SILENT.test(file.refusal);
      if (silent && state.silent_since_ms === null) options.onTrouble(file.refusal!);
      if (grew || (isHalf(file) && !rested(file, now_ms))) {
        state.silent_since_ms = silent ? (state.silent_since_ms ?? now_ms) : null;
        state.half = isHalf(file) && !silent;
        return;
      }
      waiting--;
      state.done = true;
      const old = before!.some((kept) => file.cached && isSame(kept.file, file));
      told.set(file.path, file);
      if (!old) options.onFile(file, report());
      await warn();
    };
    await (options.read ?? readQueue)(ready, {
      bench: options.bench,
      label: options.label,
      baseline_files: options.baseline_files,
      who: options.who,
      jobs: options.jobs,
      signal: options.signal,
      mask: options.mask,
      setup: options.setup,
      standing: new Set(present.map(placeOf)),
      onNotKept: options.onNotKept,
      keep: (file) => !isHalf(file) || rested(file, now_ms),
      onFile: one,
    });
    return waiting;
  }

  /** Told under this name and judged so before: a file that was only moved or touched. */
  function isSame(kept: QueueFile, file: ReadFile): boolean {
    return kept.sha256 === file.sha256 && kept.name === file.name && kept.judged_by === file.judged_by;
  }

  function report(): QueueReport {
    const fresh = [...told.values()];
    const hashes = new Set(fresh.map((file) => file.sha256));
    const places = new Set([...told.keys()].map(placeOf));
    const names = new Set(fresh.map((file) => file.name));
    const old = before!.filter(({ file, place }) =>
      place === null ? !names.has(file.name) : !places.has(place) && !hashes.has(file.sha256),
    );
    return queueReport([...old.map(({ file }) => file), ...fresh], {
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
