/** The queue of a label as the bench holds it, and the readings in it that another version made. */

import { inputError } from '../../core/errors.ts';
import {
  compareEmitters,
  type EmitterComparison,
  markSameContent,
  type QueueFile,
  type QueueOptions,
  type QueueReport,
  queueReport,
  type RunSummary,
} from '../../evidence/queue/index.ts';
import { queueLabel } from '../../store/index.ts';
import type { Bench } from '../bench.ts';

export interface StoredQueue {
  report: QueueReport;
  /** The alert that was raised for this label; null where none was. */
  alert: { raised_at: string; sentence: string } | null;
}

/** Throws an InputError for a label that nothing was kept under. */
export async function storedQueue(
  bench: Bench,
  label: string,
  options: Omit<QueueOptions, 'label'> = {},
): Promise<StoredQueue> {
  const name = queueLabel(label);
  const files = await storedFiles(bench, name);
  if (files.length === 0) {
    throw inputError(
      'unknown',
      'queue',
      `"${name}"`,
      'a label that runs were read under; see `steadycone bench queues`',
    );
  }
  const alert = await bench.store.queueAlert(name);
  const baseline_files = await bench.store.queueBaseline(name);
  return {
    report: queueReport(files, { baseline_files, ...options, label: name }),
    alert: alert ? { raised_at: alert.raised_at, sentence: alert.sentence } : null,
  };
}

/** One label's emitter against another's, over all their judged runs. */
export async function storedComparison(
  bench: Bench,
  label: string,
  other: string,
): Promise<EmitterComparison> {
  const [first, second] = [
    (await storedQueue(bench, label)).report,
    (await storedQueue(bench, other)).report,
  ];
  const runs = ({ files }: QueueReport) =>
    files.flatMap((file) => (file.summary && file.same_as === null ? [file.summary] : []));
  return compareEmitters(runs(first), runs(second), [first.label, second.label]);
}

/** A file of a queue with where it lies. */
export interface StoredFile {
  file: QueueFile;
  /** Null of a file that could not be read. */
  place: string | null;
  changed_ms: number | null;
}

/** As the queue was last read: each file by the code, set-up and mask that judged it then, whatever its run was read with since. */
export async function storedFiles(bench: Bench, label: string): Promise<QueueFile[]> {
  const files = (await storedPlaces(bench, label)).map(({ file }) => file);
  markSameContent(files);
  return files;
}

export async function storedPlaces(bench: Bench, label: string): Promise<StoredFile[]> {
  const files: StoredFile[] = [];
  for (const run of await bench.store.queuedRuns(queueLabel(label))) {
    const short = await shortAs(bench, run.sha256, run.maker);
    files.push({
      file: {
        name: run.name,
        sha256: run.sha256,
        bytes: run.bytes,
        began: run.began,
        began_from: run.began_from,
        refusal: short ? null : 'its reading is not kept in short; read it again',
        summary: short ? (short.summary as RunSummary) : null,
        reading_id: short?.reading_id ?? null,
        same_as: null,
        judged_by: run.maker,
      },
      place: run.place,
      changed_ms: run.changed_ms,
    });
  }
  for (const { name, bytes, changed, reason } of await bench.store.queueRefusals(queueLabel(label))) {
    const began_from = changed === null ? null : 'file';
    const nothing = { sha256: null, summary: null, reading_id: null, same_as: null, judged_by: null };
    files.push({
      file: { name, bytes, began: changed, began_from, refusal: reason, ...nothing },
      place: null,
      changed_ms: null,
    });
  }
  return files;
}

/** The short form of these bytes as a queue holds it; by any maker where an older version did not note which. */
export function shortAs(bench: Bench, sha256: string, maker: string | null) {
  return maker === null ? bench.store.lastShortOf(sha256) : bench.store.shortOf(sha256, maker);
}
