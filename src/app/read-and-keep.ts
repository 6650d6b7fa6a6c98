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

/** A run as read, with what the bench keeps of its file. */
export interface RunAsRead {
  reading: RunReading;
  sha256: string;
  bytes: number;
  /** Without folders. */
  name: string;
}

export interface KeptReading extends Omit<RunAsRead, 'name'> {
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
  const run = asRead(await readRunStream(stream, inputOptions(options)), name);
  return keptWhereAsked(bench, run, options.who);
}

export async function readOneRun(path: string, options: ReadOptions = {}): Promise<RunAsRead> {
  return asRead(await readRunFile(path, inputOptions(options)), path);
}

/** Keeps a run that was read already: run and reading together or not at all. */
export async function keepReading(
  bench: Bench,
  { reading, sha256, bytes, name }: RunAsRead,
  who = '',
): Promise<{ run_id: string; reading_id: string }> {
  const stamp = bench.stamp(who, reading.invented);
  const run = { sha256, name, bytes, format: reading.format, ms1_count: reading.ms1_count };
  return bench.store.atomically(async (writer) => {
    const { id: run_id } = await writer.addRun(run, stamp);
    const facts = { title: reading.verdict.sentence, document: reading };
    const { id: reading_id } = await writer.addReading(run_id, facts, stamp);
    return { run_id, reading_id };
  });
}

/** Last part of a path of any system, in one line. */
export function fileName(path: string): string {
  return oneLine(path.split(/[/\\]/).at(-1) ?? '');
}

function asRead({ record, sha256, bytes }: ReadRun, path: string): RunAsRead {
  return { reading: readRun(record), sha256, bytes, name: fileName(path) };
}

async function keptWhereAsked(bench: Bench | undefined, run: RunAsRead, who?: string): Promise<KeptReading> {
  const { name: _name, ...read } = run;
  return bench === undefined ? read : { ...read, ...(await keepReading(bench, run, who)) };
}

function inputOptions({ onProgress, signal }: ReadOptions) {
  return { ...(onProgress ? { onProgress } : {}), ...(signal ? { signal } : {}) };
}
