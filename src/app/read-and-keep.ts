/**
 * Reads one run and keeps run and reading together, once the whole file was read. Of the file only its name without
 * folders, its size, hash and format are kept beside the reading.
 */
import { type RunReading, readRun, runWitnesses, type Witnesses } from '../evidence/index.ts';
import { runSummary } from '../evidence/queue/index.ts';
import { psiMetrics, type QualityMetric } from '../formats/mzqc/index.ts';
import { type ReadRun, readRunFile, readRunStream as readStream } from '../formats-node/index.ts';
import { oneLine } from '../store/index.ts';
import type { Bench } from './bench.ts';
import { maker } from './queue/maker.ts';
import { runStart } from './queue/run-start.ts';

export interface ReadOptions {
  who?: string | undefined;
  /** Bytes read so far and in all (0 where unknown). */
  onProgress?: ((read: number, total: number) => void) | undefined;
  signal?: AbortSignal | undefined;
  /** Stretches of run time to leave out: injection, wash. */
  mask?: readonly MaskSpan[] | undefined;
}

export interface MaskSpan {
  start_s: number;
  end_s: number;
}

/** A run as read, with what the bench keeps of its file. */
export interface RunAsRead {
  reading: RunReading;
  sha256: string;
  bytes: number;
  /** Without folders. */
  name: string;
  /** Quality metrics by the PSI-MS vocabulary, of all MS1 scans. */
  metrics: QualityMetric[];
  /** When the run began, as its file says (ISO 8601, UTC); null where it does not. */
  started: string | null;
  mask: readonly MaskSpan[];
}

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

/** A stream that ends in an error throws that error. */
export async function readRunStream(
  stream: AsyncIterable<Uint8Array>,
  name: string,
  options: ReadOptions = {},
): Promise<RunAsRead> {
  const witnesses = runWitnesses();
  const run = await readStream(stream, { ...inputOptions(options), onMs1: witnesses.see });
  return asRead(run, name, witnesses.finish(), options.mask);
}

export async function readOneRun(path: string, options: ReadOptions = {}): Promise<RunAsRead> {
  const witnesses = runWitnesses();
  const read = await readRunFile(path, { ...inputOptions(options), onMs1: witnesses.see });
  const run = asRead(read, path, witnesses.finish(), options.mask);
  return { ...run, started: await runStart(path) };
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
      maker: maker(read.mask),
      summary: runSummary(reading),
      metrics: shortMetrics(read),
      started,
    });
    return { run_id, reading_id };
  });
}

/** The metrics without the table of all scans, which the reading's own series holds. */
export function shortMetrics({ metrics }: RunAsRead): QualityMetric[] {
  return metrics.filter((metric) => metric.accession !== 'MS:4000211');
}

/** Last part of a path of any system, in one line. */
export function fileName(path: string): string {
  return oneLine(path.split(/[/\\]/).at(-1) ?? '');
}

function asRead(
  { record, sha256, bytes }: ReadRun,
  path: string,
  witnesses: Witnesses,
  mask: readonly MaskSpan[] = [],
): RunAsRead {
  return {
    reading: readRun(record, { mask, witnesses }),
    sha256,
    bytes,
    name: fileName(path),
    metrics: psiMetrics(record),
    started: null,
    mask,
  };
}

async function keptWhereAsked(bench: Bench | undefined, run: RunAsRead, who?: string): Promise<KeptReading> {
  const { reading, sha256, bytes } = run;
  const ids = bench === undefined ? {} : await keepReading(bench, run, who);
  return { reading, sha256, bytes, ...ids };
}

function inputOptions({ onProgress, signal }: ReadOptions) {
  return { ...(onProgress ? { onProgress } : {}), ...(signal ? { signal } : {}) };
}
