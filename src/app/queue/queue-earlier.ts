/** The files of a queue, each held against the last good ones before it, from the readings that the bench keeps. */
import { earlierGood, type FileAgainstEarlier } from '../../evidence/against/index.ts';
import type { QueueFile } from '../../evidence/queue/index.ts';
import { ordered } from '../../evidence/queue/index.ts';
import type { Bench } from '../bench.ts';
import { keptRunReading } from '../kept-reading.ts';
import { storedQueue } from './stored-queue.ts';

/** In the order of the queue; files without a kept reading, and copies of earlier ones, are left out. */
export async function queueAgainstEarlier(
  bench: Bench,
  files: readonly QueueFile[],
): Promise<FileAgainstEarlier[]> {
  const earlier = earlierGood();
  const told: FileAgainstEarlier[] = [];
  for (const { name, reading_id, same_as } of ordered(files).files) {
    if (reading_id === null || same_as !== null) continue;
    const { reading } = await keptRunReading(bench, reading_id);
    told.push(earlier.next(name, reading));
  }
  return told;
}

export async function storedQueueAgainstEarlier(bench: Bench, label: string): Promise<FileAgainstEarlier[]> {
  return queueAgainstEarlier(bench, (await storedQueue(bench, label)).report.files);
}
