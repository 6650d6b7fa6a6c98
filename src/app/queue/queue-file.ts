/** One file of a queue: what was read, refused or taken from the bench, and how it is kept there. */
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
  const { run_id } = file;
  if (label !== undefined && run_id !== null)
    await keeping(options, () => bench.store.addToQueue(label, run_id, file, when));
}

/** Where the run does not say when it began: the file's own time is that of its end. */
export function dated(file: ReadFile, changed_ms: number): void {
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
    cached: false,
  };
}

export function sameContent(files: ReadFile[]): void {
  const seen = new Map<string, string>();
  for (const file of files) {
    if (file.sha256 === null) continue;
    const first = seen.get(file.sha256);
    if (first === undefined) seen.set(file.sha256, file.name);
    else file.same_as = first;
  }
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
