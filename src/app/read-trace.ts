/**
 * Reads one current trace: file to statistics to reading. A trace that reads negative as a whole is read again with its sign
 * turned. With a set-up the plan says what to expect.
 */
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { inputError } from '../core/errors.ts';
import { type Plan, planFor } from '../core/plan/index.ts';
import type { Setup } from '../core/setup.ts';
import type { CurrentStatistics } from '../core/signal/index.ts';
import {
  type CurrentReading,
  type FlowWalk,
  flowTold,
  looksReversed,
  type ResistorReading,
  readCurrent,
  readWalks,
  resistorTold,
  type TraceTold,
  traceContext,
  tracePass,
  typedMarks,
  type VoltageWalk,
  voltageTold,
  type WalksTold,
  windowOfWalks,
} from '../evidence/current/index.ts';
import type { TraceEnd, TraceHead, TraceOptions } from '../formats/trace/index.ts';
import { readTraceFile, traceBytes } from '../formats-node/index.ts';

export interface ReadTraceTask extends TraceOptions, Omit<TraceTold, 'resistor_MOhm'> {
  setup?: Setup | undefined;
  window_s?: number | undefined;
  /** The meter's own resistance beside the resistor. */
  meter_MOhm?: number | undefined;
  walk?: WalkTask | undefined;
  /** Path of a table, or typed 'seconds=nL/min' marks. */
  flow_walk?: string | undefined;
  onProgress?: ((read: number, total: number) => void) | undefined;
  signal?: AbortSignal | undefined;
}

export interface WalkTask {
  /** Path of a step table, typed 'seconds=volts' marks, or 'channel' for the logged voltage. */
  from: string;
  voltage_at?: VoltageWalk['voltage_at'] | undefined;
  series_MOhm?: number | undefined;
}

export interface ReadTrace {
  name: string;
  head: TraceHead;
  end: TraceEnd;
  statistics: CurrentStatistics;
  reading: CurrentReading;
  plan: Plan | undefined;
  walk?: VoltageWalk;
  flow_walk?: FlowWalk;
  resistor?: ResistorReading;
}

export async function readTrace(path: string, given: ReadTraceTask = {}): Promise<ReadTrace> {
  const bytes = await traceBytes(path);
  const resistor = resistorTold(given);
  const walks = await walksOf(given);
  const task: ReadTraceTask = {
    ...given,
    resistor_MOhm: resistor?.effective_MOhm ?? given.resistor_MOhm,
  };
  const longest_s = windowOfWalks(walks);
  let pass = await onePass(path, bytes, task, 1, longest_s);
  const turned = looksReversed(pass.statistics);
  if (turned) pass = await onePass(path, bytes, task, -1, longest_s);
  const { head, end, statistics } = pass;
  const plan = task.setup === undefined ? undefined : planFor(task.setup, { observations: [] });
  const reading = readCurrent(statistics, { ...traceContext(head, end, task, plan), turned });
  const trace: ReadTrace = {
    name: basename(path),
    head,
    end,
    statistics,
    plan,
    ...readWalks(reading, head, walks, plan),
  };
  const used = resistorTold(given, reading);
  if (used) trace.resistor = used;
  return trace;
}

async function walksOf({ walk, flow_walk }: ReadTraceTask): Promise<WalksTold> {
  return {
    ...(walk && {
      voltage: voltageTold(await told(walk.from), basename(walk.from)),
      voltage_at: walk.voltage_at,
      series_MOhm: walk.series_MOhm,
    }),
    ...(flow_walk !== undefined && { flow: flowTold(await told(flow_walk), basename(flow_walk)) }),
  };
}

/** What is typed stands for itself; anything else is the path of a small table. */
async function told(from: string): Promise<string> {
  return from === 'channel' || typedMarks(from) ? from : smallText(from);
}

const TABLE_BYTES_MAX = 1 << 20;

async function smallText(path: string): Promise<string> {
  const expected = 'a small CSV table, or marks such as 0=1500,10=1600';
  const found = await stat(path).catch(() => undefined);
  if (!found) throw inputError('missing', 'step table', basename(path), expected);
  if (!found.isFile() || found.size > TABLE_BYTES_MAX)
    throw inputError('invalid', 'step table', `${basename(path)}, no file of at most 1 MB`, expected);
  return readFile(path, 'utf8');
}

async function onePass(
  path: string,
  bytes: number,
  task: ReadTraceTask,
  sign: 1 | -1,
  longest_s: number | undefined,
) {
  const pass = tracePass({ bytes, window_s: task.window_s, longest_s, sign });
  const { onProgress, signal } = task;
  const end = await readTraceFile(path, task, pass.sink, { onProgress, signal });
  return { ...pass.end(), end };
}
