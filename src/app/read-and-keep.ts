/**
 * Reads one run and keeps run and reading together, once the whole file was read. Of the file only its name without
 * folders, its size, hash and format are kept beside the reading.
 */
import { type RunReading, readRun } from '../evidence/index.ts';
import { type ReadRun, readRunFile, readRunStream } from '../formats-node/index.ts';
import { oneLine } from '../store/index.ts';
import type { Bench } from './bench.ts';

export interface ReadOptions {
  who?: string | undefined;
  /** Bytes read so far and in all (0 where unknown). */
  onProgress?: ((read: number, total: number) => void) | undefined;
  signal?: AbortSignal | undefined;
}

export interface KeptReading {
  reading: RunReading;
  sha256: string;
  bytes: number;
  /** Absent where no bench was given. */
  run_id?: string;
  reading_id?: string;
}

export async function readRunAndKeep(
  bench: Bench | undefined,
  path: string,
  options: ReadOptions = {},
): Promise<KeptReading> {
  return kept(bench, await readRunFile(path, inputOptions(options)), path, options);
}

/** A stream that ends in an error (an upload that was broken off) stores nothing and throws that error. */
export async function readRunStreamAndKeep(
  bench: Bench | undefined,
  stream: AsyncIterable<Uint8Array>,
  name: string,
  options: ReadOptions = {},
): Promise<KeptReading> {
  return kept(bench, await readRunStream(stream, inputOptions(options)), name, options);
}

/** Last part of a path of any system, in one line. */
export function fileName(path: string): string {
  return oneLine(path.split(/[/\\]/).at(-1) ?? '');
}

async function kept(
  bench: Bench | undefined,
  { record, sha256, bytes }: ReadRun,
  path: string,
  options: ReadOptions,
): Promise<KeptReading> {
  const reading = readRun(record);
  if (!bench) return { reading, sha256, bytes };
  const stamp = bench.stamp(options.who ?? '', record.invented);
  const run = { sha256, name: fileName(path), bytes, format: record.format, ms1_count: record.ms1_count };
  return bench.store.atomically(async (writer) => {
    const { id: run_id } = await writer.addRun(run, stamp);
    const facts = { title: reading.verdict.sentence, document: reading };
    const { id: reading_id } = await writer.addReading(run_id, facts, stamp);
    return { reading, sha256, bytes, run_id, reading_id };
  });
}

function inputOptions({ onProgress, signal }: ReadOptions) {
  return { ...(onProgress ? { onProgress } : {}), ...(signal ? { signal } : {}) };
}
