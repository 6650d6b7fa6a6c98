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
import { MN_M } from '../core/units.ts';
import {
  type CurrentReading,
  type FlowWalk,
  flowSteps,
  looksReversed,
  type ResistorReading,
  readCurrent,
  readFlowWalk,
  readVoltageWalk,
  resistorReading,
  type TraceTold,
  traceContext,
  tracePass,
  type VoltageWalk,
  voltageSteps,
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

/** A step of a walk holds at least so many windows. */
const WINDOWS_PER_STEP = 8;

export async function readTrace(path: string, given: ReadTraceTask = {}): Promise<ReadTrace> {
  const bytes = await traceBytes(path);
  const resistor = resistorOf(given);
  const steps = given.walk && given.walk.from !== 'channel' ? await stepsOf(given.walk.from) : undefined;
  const flows = given.flow_walk === undefined ? undefined : await flowsOf(given.flow_walk);
  const task: ReadTraceTask = {
    ...given,
    resistor_MOhm: resistor?.effective_MOhm ?? given.resistor_MOhm,
    window_s: given.window_s ?? windowOfSteps(steps ?? flows),
  };
  let pass = await onePass(path, bytes, task, 1);
  const turned = looksReversed(pass.statistics);
  if (turned) pass = await onePass(path, bytes, task, -1);
  const { head, end, statistics } = pass;
  const plan = task.setup === undefined ? undefined : planFor(task.setup, { observations: [] });
  const reading = readCurrent(statistics, { ...traceContext(head, end, task, plan), turned });
  const trace: ReadTrace = { name: basename(path), head, end, statistics, reading, plan };
  if (given.walk) {
    if (!steps && !head.channels.some((channel) => channel.quantity === 'voltage'))
      throw inputError(
        'missing',
        'voltage of the walk',
        'the trace has no voltage channel',
        'a step table or seconds=volts with --walk',
      );
    trace.walk = readVoltageWalk(reading, { ...given.walk, steps, planned: plan });
  }
  if (flows) trace.flow_walk = readFlowWalk(flows, reading, plan && surfaceTensionOf(plan));
  if (resistor) trace.resistor = resistor;
  return trace;
}

/** A walk over typed currents needs no trace. */
export async function readFlowTable(source: string, setup?: Setup): Promise<FlowWalk> {
  const plan = setup && planFor(setup, { observations: [] });
  return readFlowWalk(await flowsOf(source), undefined, plan && surfaceTensionOf(plan));
}

function surfaceTensionOf(plan: Plan) {
  const { value, low, high } = plan.liquid.surface_tension_mN_m;
  return { value: value * MN_M, low: low * MN_M, high: high * MN_M };
}

function resistorOf(task: ReadTraceTask): ResistorReading | undefined {
  if (task.resistor_MOhm === undefined) return undefined;
  return resistorReading({
    resistor_MOhm: task.resistor_MOhm,
    meter_MOhm: task.meter_MOhm,
    capacitance_pF: task.capacitance_pF,
  });
}

function windowOfSteps(steps: readonly { time_s?: number }[] | undefined): number | undefined {
  const times = (steps ?? []).flatMap((step) => step.time_s ?? []).sort((a, b) => a - b);
  const lengths = times
    .slice(1)
    .map((t, i) => t - times[i]!)
    .filter((length) => length > 0);
  return lengths.length > 0 ? Math.min(...lengths) / WINDOWS_PER_STEP : undefined;
}

async function stepsOf(from: string) {
  return voltageSteps(typed(from) ? from : await smallText(from), typed(from) ? 'marks' : basename(from));
}

async function flowsOf(from: string) {
  return flowSteps(typed(from) ? from : await smallText(from), typed(from) ? 'marks' : basename(from));
}

function typed(text: string): boolean {
  return /^\s*-?[\d.]+\s*=/.test(text);
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

async function onePass(path: string, bytes: number, task: ReadTraceTask, sign: 1 | -1) {
  const pass = tracePass({ bytes, window_s: task.window_s, sign });
  const { onProgress, signal } = task;
  const end = await readTraceFile(path, task, pass.sink, { onProgress, signal });
  return { ...pass.end(), end };
}
