/**
 * Reads one run and keeps run and reading together, once the whole file was read. Of the file only its name without
 * folders, its size, hash and format are kept beside the reading.
 */
import { runSummary } from '../evidence/queue/index.ts';
import type { Bench } from './bench.ts';
import { maker } from './queue/maker.ts';
import { type ReadOptions, type RunAsRead, readOneRun, readRunStream, shortMetrics } from './read-one-run.ts';

export interface KeptReading extends Pick<RunAsRead, 'reading' | 'sha256' | 'bytes'> {
  /** Absent where no bench was given. */
  run_id?: string;
  reading_id?: string;
}

export async function readRunAndKeep(
  bench: Bench | undefined,
  path: string,
  options: ReadOptions = {},
): Promise<KeptReading> {
  return keptWhereAsked(bench, await readOneRun(path, options), options.who);
}

/** A stream that ends in an error (an upload that was broken off) stores nothing and throws that error. */
export async function readRunStreamAndKeep(
  bench: Bench | undefined,
  stream: AsyncIterable<Uint8Array>,
  name: string,
  options: ReadOptions = {},
): Promise<KeptReading> {
  return keptWhereAsked(bench, await readRunStream(stream, name, options), options.who);
}

/** Keeps a run that was read already: run and reading together or not at all. */
export async function keepReading(
  bench: Bench,
  read: RunAsRead,
  who = '',
): Promise<{ run_id: string; reading_id: string }> {
  const { reading, sha256, bytes, name, started } = read;
  const stamp = bench.stamp(who, reading.invented);
  const run = { sha256, name, bytes, format: reading.format, ms1_count: reading.ms1_count };
  return bench.store.atomically(async (writer) => {
    const { id: run_id } = await writer.addRun(run, stamp);
    const facts = { title: reading.verdict.sentence, document: reading };
    const { id: reading_id } = await writer.addReading(run_id, facts, stamp);
    await writer.addShort(reading_id, {
      maker: maker(read.mask, read.setup),
      summary: runSummary(reading),
      metrics: shortMetrics(read),
      started,
    });
    return { run_id, reading_id };
  });
}

async function keptWhereAsked(bench: Bench | undefined, run: RunAsRead, who?: string): Promise<KeptReading> {
  const { reading, sha256, bytes } = run;
  const ids = bench === undefined ? {} : await keepReading(bench, run, who);
  return { reading, sha256, bytes, ...ids };
}
