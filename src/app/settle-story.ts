/**
 * The story around a settle session: the reading that led to it, the one that proves it, and the working point that is kept.
 * Level and scatter of a run are those of its main group; of a trace the mean current and its scatter.
 */
import type { BenchItem } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import {
  observationsYaml,
  type ReadFigures,
  type SettleReason,
  type WorkingPoint,
  workingPoint,
  workingPointTitle,
} from '../core/settling/index.ts';
import { runFigures, traceFigures } from '../evidence/read-figures.ts';
import type { Bench } from './bench.ts';
import { keptRunReading } from './kept-reading.ts';
import { readRunAndKeep } from './read-and-keep.ts';
import { fileName } from './read-one-run.ts';
import { type ReadTraceTask, readTrace } from './read-trace.ts';
import type { SettleLog } from './settle.ts';

export interface KeptPoint {
  item: BenchItem;
  point: WorkingPoint;
}

/** A run file read now, and kept where a bench is given. */
export async function figuresOfRun(bench: Bench | undefined, path: string): Promise<ReadFigures> {
  const { reading, reading_id } = await readRunAndKeep(bench, path);
  return runFigures(reading, fileName(path), reading_id);
}

export async function figuresOfReading(bench: Bench, id: string): Promise<ReadFigures> {
  const kept = await keptRunReading(bench, id);
  return runFigures(kept.reading, kept.name, kept.id);
}

/** A current trace read now; it is not kept. */
export async function figuresOfTrace(path: string, told: ReadTraceTask = {}): Promise<ReadFigures> {
  return traceFigures((await readTrace(path, told)).reading, fileName(path));
}

/** A request may name a reading of the bench as the one that led here: its figures stand in the log then. */
export async function withReason(bench: Bench, document: unknown): Promise<unknown> {
  if (typeof document !== 'object' || document === null || !('because' in document)) return document;
  const { because } = document;
  if (typeof because !== 'object' || because === null || !('reading_id' in because)) return document;
  const { reading_id, ...rest } = because;
  return { ...document, because: { ...rest, before: await figuresOfReading(bench, String(reading_id)) } };
}

export function reasonFrom(cause: string, before?: ReadFigures, probability?: number): SettleReason {
  return {
    cause,
    ...(probability === undefined ? {} : { probability }),
    ...(before === undefined ? {} : { before }),
  };
}

export async function keepWorkingPoint(
  bench: Bench,
  log: SettleLog,
  session: string,
  who = '',
): Promise<KeptPoint> {
  const { readings } = log.session;
  const date = new Date(log.began.getTime() + 1000 * (readings.at(-1)?.time_s ?? 0)).toISOString();
  const point = workingPoint(log.session, { session, date, setup: log.setup });
  const stamp = bench.stamp(who, point.invented);
  const stored = await bench.store.atomically(async (writer) => {
    const emitter = await emitterOf(log, writer, stamp);
    const words = [point.emitter, point.instrument, point.name].filter((word) => word !== null);
    return writer.addPoint(emitter, { title: workingPointTitle(point), words, document: point }, stamp);
  });
  return { item: (await bench.show(stored.id)).item, point };
}

/** The emitter of the session's set-up, or the one that it names by its id. */
async function emitterOf(
  { setup, session }: SettleLog,
  writer: Pick<Bench['store'], 'addSetup'>,
  stamp: ReturnType<Bench['stamp']>,
): Promise<string | undefined> {
  if (setup !== undefined) return (await writer.addSetup(setup, stamp)).emitter_id;
  return /^emitter-\d+$/.test(session.emitter ?? '') ? session.emitter : undefined;
}

/** The rows of `plan --observe` that a kept working point holds. */
export async function pointObservations(bench: Bench, id: string): Promise<string> {
  const { item, document } = await bench.show(id);
  if (item.kind !== 'point') throw inputError('invalid', 'working point', `"${id}"`, 'an id such as point-1');
  return observationsYaml((document as WorkingPoint).observations);
}
