/**
 * Reads one run: bytes to record to reading, with the facts of its file. Nothing here knows the bench, so that a worker which only
 * reads starts fast.
 */
import type { Setup } from '../core/setup.ts';
import {
  methodOfGradient,
  type RunReading,
  readRun,
  runWitnesses,
  type Witnesses,
} from '../evidence/index.ts';
import { psiMetrics, type QualityMetric } from '../formats/mzqc/index.ts';
import { type ReadRun, readRunFile, readRunStream as readStream } from '../formats-node/index.ts';
import { oneLine } from '../store/titles.ts';
import { runStart } from './queue/run-start.ts';

export interface ReadOptions {
  who?: string | undefined;
  /** Bytes read so far and in all (0 where unknown). */
  onProgress?: ((read: number, total: number) => void) | undefined;
  signal?: AbortSignal | undefined;
  /** Stretches of run time to leave out: injection, wash. */
  mask?: readonly MaskSpan[] | undefined;
  /** Whether a large file may take a second thread; default true. */
  beside?: boolean | undefined;
  /** The set-up of the run: its gradient tells injection and wash. */
  setup?: Setup | undefined;
  /** Whether the metrics hold the table of all scans too, as an mzQC file of the run does; default false: it is long. */
  scanTable?: boolean | undefined;
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
  /** Quality metrics by the PSI-MS vocabulary, of all MS1 scans; the table of the scans only where asked for. */
  metrics: QualityMetric[];
  /** When the run began, as its file says (ISO 8601, UTC); null where it does not. */
  started: string | null;
  mask: readonly MaskSpan[];
  setup?: Setup | undefined;
}

/** A stream that ends in an error throws that error. */
export async function readRunStream(
  stream: AsyncIterable<Uint8Array>,
  name: string,
  options: ReadOptions = {},
): Promise<RunAsRead> {
  const witnesses = runWitnesses();
  const run = await readStream(stream, { ...inputOptions(options), onMs1: witnesses.see });
  return asRead(run, name, witnesses.finish(), options);
}

export async function readOneRun(path: string, options: ReadOptions = {}): Promise<RunAsRead> {
  const witnesses = runWitnesses();
  const read = await readRunFile(path, { ...inputOptions(options), onMs1: witnesses.see });
  const run = asRead(read, path, witnesses.finish(), options);
  return { ...run, started: await runStart(path) };
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
  { mask = [], setup, scanTable = false }: ReadOptions,
): RunAsRead {
  return {
    reading: readRun(record, { mask, witnesses, ...methodOf(setup) }),
    sha256,
    bytes,
    name: fileName(path),
    metrics: psiMetrics(record, scanTable),
    started: null,
    mask,
    ...(setup === undefined ? {} : { setup }),
  };
}

function methodOf(setup: Setup | undefined) {
  if (setup?.gradient === undefined) return {};
  const flow_nL_min = setup.feed.kind === 'pumped' ? setup.feed.flow_nL_min : undefined;
  return { method: methodOfGradient(setup.gradient, flow_nL_min, setup.name) };
}

function inputOptions({ onProgress, signal, beside }: ReadOptions) {
  return {
    ...(onProgress ? { onProgress } : {}),
    ...(signal ? { signal } : {}),
    ...(beside === undefined ? {} : { beside }),
  };
}
