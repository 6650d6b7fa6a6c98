/** The queue of a label as the bench holds it, and the readings in it that another version made. */

import { inputError } from '../../core/errors.ts';
import {
  compareEmitters,
  type EmitterComparison,
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
  return {
    report: queueReport(files, { ...options, label: name }),
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
  const runs = ({ files }: QueueReport) => files.flatMap((file) => (file.summary ? [file.summary] : []));
  return compareEmitters(runs(first), runs(second), [first.label, second.label]);
}

export async function storedFiles(bench: Bench, label: string): Promise<QueueFile[]> {
  const files: QueueFile[] = [];
  for (const run of await bench.store.queuedRuns(queueLabel(label))) {
    const short = await bench.store.lastShortOf(run.sha256);
    files.push({
      name: run.name,
      sha256: run.sha256,
      bytes: run.bytes,
      began: run.began,
      began_from: run.began_from,
      refusal: short ? null : 'its reading is not kept in short; read it again',
      summary: short ? (short.summary as RunSummary) : null,
      reading_id: short?.reading_id ?? null,
      same_as: null,
    });
  }
  for (const { name, bytes, changed, reason } of await bench.store.queueRefusals(queueLabel(label))) {
    files.push({
      name,
      sha256: null,
      bytes,
      began: changed,
      began_from: changed === null ? null : 'file',
      refusal: reason,
      summary: null,
      reading_id: null,
      same_as: null,
    });
  }
  return files;
}
