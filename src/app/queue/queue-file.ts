/** One file of a queue: what was read, refused or taken from the bench, and how it is kept there. */
import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import { InputError } from '../../core/errors.ts';
import type { QueueFile } from '../../evidence/queue/index.ts';
import type { QualityMetric } from '../../formats/mzqc/index.ts';
import type { Bench } from '../bench.ts';
import { keepReading } from '../read-and-keep.ts';
import { fileName, type RunAsRead } from '../read-one-run.ts';

export interface ReadFile extends QueueFile {
  path: string;
  metrics: QualityMetric[];
  format: 'mzML' | 'mzXML' | null;
  run_id: string | null;
  /** Taken from the bench. */
  cached: boolean;
  /** The file's own time [ms since 1970]; null where it could not be had. */
  changed_ms: number | null;
}

/** A file of the queue with what was read of it now; from the bench or refused it has no run. */
export interface FileAsRead {
  file: ReadFile;
  run?: RunAsRead;
}

/** What keeping needs of the options of a queue. */
export interface KeepHow {
  bench?: Bench | undefined;
  /** Name the runs are kept under together. */
  label?: string | undefined;
  who?: string | undefined;
  /** Files that set the usual values, noted for the label so that the page judges as the command line did. */
  baseline_files?: number | undefined;
  /** Places of all files that are there; a file kept at any other place with the same content has moved. */
  standing?: ReadonlySet<string> | undefined;
  /** Whether a file read afresh is kept on the bench. Default: always. */
  keep?: ((file: ReadFile) => boolean) | undefined;
  /** The store failed on a file: the reading stands, unkept. */
  onNotKept?: ((error: InputError) => void) | undefined;
}

export async function keepFile({ file, run }: FileAsRead, options: KeepHow): Promise<void> {
  const { bench, label } = options;
  if (!bench) return;
  const when = bench.stamp('').when;
  if (file.refusal !== null) {
    if (label === undefined || !(options.keep?.(file) ?? true)) return;
    const refusal = { name: file.name, bytes: file.bytes, changed: file.began, reason: file.refusal };
    await keeping(options, () => bench.store.addRefusal(label, refusal, when));
    return;
  }
  if (run && (options.keep?.(file) ?? true)) {
    const kept = await keeping(options, () => keepReading(bench, run, options.who));
    file.run_id = kept?.run_id ?? null;
    file.reading_id = kept?.reading_id ?? null;
  }
  const { run_id, name, began, began_from, judged_by, changed_ms } = file;
  if (label === undefined || run_id === null) return;
  const { standing } = options;
  const facts = {
    name,
    began,
    began_from,
    place: placeOf(file.path),
    maker: judged_by,
    changed_ms,
    standing,
  };
  await keeping(options, () => bench.store.addToQueue(label, run_id, facts, when));
}

const PLACE_LETTERS = 16;

/** Where a file lies, as a fingerprint: the bench keeps no folders of the computer. */
export function placeOf(path: string): string {
  return createHash('sha256').update(resolve(path)).digest('hex').slice(0, PLACE_LETTERS);
}

/** Before the first file, so that the page of a queue under way already judges by it. */
export async function keepBaseline(options: KeepHow): Promise<void> {
  const { bench, label, baseline_files } = options;
  if (!bench || label === undefined || baseline_files === undefined) return;
  await keeping(options, () => bench.store.setQueueBaseline(label, baseline_files));
}

/** Where the run does not say when it began: the file's own time is that of its end. */
export function dated(file: ReadFile, changed_ms: number): void {
  file.changed_ms = changed_ms;
  if (file.began !== null || file.summary === null) return;
  const length_ms = (file.summary.end_s - Math.min(0, file.summary.start_s)) * 1000;
  file.began = new Date(changed_ms - length_ms).toISOString();
  file.began_from = 'file';
}

export function refused(path: string, bytes: number, error: InputError, fact: unknown): ReadFile {
  return {
    path,
    name: fileName(path),
    sha256: null,
    bytes,
    began: isFacts(fact) ? new Date(fact.changed_ms).toISOString() : null,
    began_from: isFacts(fact) ? 'file' : null,
    refusal: error.message.split('\n').join('; '),
    summary: null,
    metrics: [],
    format: null,
    run_id: null,
    reading_id: null,
    same_as: null,
    judged_by: null,
    cached: false,
    changed_ms: isFacts(fact) ? fact.changed_ms : null,
  };
}

export function isFacts(fact: unknown): fact is { bytes: number; changed_ms: number } {
  return typeof fact === 'object' && fact !== null && 'changed_ms' in fact;
}
async function keeping<T>(options: KeepHow, work: () => Promise<T>): Promise<T | undefined> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    options.onNotKept?.(error);
    return undefined;
  }
}
