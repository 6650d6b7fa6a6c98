/**
 * Beside the page: reads a trace file as a stream, keeps what the views need, and reads the regimes in the same pass. The file
 * never leaves the browser. A trace that reads negative throughout is read again with its sign turned. Walks are read from what the pass left;
 * only where their steps need shorter windows the file is passed over again.
 */
import { expose } from 'comlink';
import { type Fault, InputError, inputError } from '../../core/errors.ts';
import { type Plan, planFor } from '../../core/plan/index.ts';
import type { Setup } from '../../core/setup.ts';
import type { CurrentStatistics } from '../../core/signal/index.ts';
import {
  type CurrentReading,
  type FlowWalk,
  flowTold,
  looksReversed,
  type PlannedWindow,
  type ResistorReading,
  type ResistorTold,
  readCurrent,
  readFlowWalk,
  readWalks,
  resistorTold,
  surfaceTensionOf,
  type TraceTold,
  traceContext,
  tracePass,
  type VoltageWalk,
  voltageTold,
  type WalksTold,
  windowOfWalks,
} from '../../evidence/current/index.ts';
import {
  rawSidecar,
  type TraceEnd,
  type TraceHead,
  type TraceOptions,
  traceReader,
} from '../../formats/trace/index.ts';
import { saidBy } from '../said-by.ts';
import { breath } from './breath.ts';
import { filePieces } from './file-pieces.ts';
import {
  fileSource,
  type KeptSamples,
  keptSamples,
  roomFor,
  type SampleStore,
  sampleStore,
  type TraceView,
} from './sample-store.ts';

export interface TraceTask {
  file: Blob;
  /** The sidecar's document. */
  sidecar?: unknown;
  options: TraceOptions;
  told: TraceTold & ResistorTold;
  setup?: Setup | undefined;
}

export interface TraceOpened {
  head: TraceHead;
  end: TraceEnd;
  /** Samples of the finest view: 1 where single samples can be shown. */
  finest: number;
  reading: CurrentReading;
  resistor?: ResistorReading | undefined;
}

/** Texts as typed, pasted or out of a small file. */
export interface WalksTyped {
  voltage?: { text: string; name: string } | undefined;
  voltage_at?: VoltageWalk['voltage_at'] | undefined;
  series_MOhm?: number | undefined;
  flow?: { text: string; name: string } | undefined;
}

export interface WalksOpened {
  /** By the windows of the walk; undefined where no trace is open. */
  reading?: CurrentReading;
  walk?: VoltageWalk;
  flow_walk?: FlowWalk;
  planned?: PlannedWindow;
}

export type Refused = { faults: readonly Fault[] } | { trouble: string } | { stopped: true };
export type OpenAnswer = TraceOpened | Refused;
export type WalksAnswer = { walks: WalksOpened } | Refused;

interface Held {
  task: TraceTask;
  plan: Plan | undefined;
  sign: 1 | -1;
  pass: Pass;
  /** By windows short enough for a walk's steps, kept for the next question about the same steps. */
  finer?: Pass;
  samples: SampleStore;
}

let held: Held | undefined;
/** Counts what was asked; an earlier pass ends at its next piece. */
let turn = 0;

const work = {
  /** Progress tells the bytes read, and the sign with which they are taken. */
  async open(task: TraceTask, onProgress?: (bytes: number, sign: 1 | -1) => void): Promise<OpenAnswer> {
    turn++;
    held = undefined;
    return guarded(async () => {
      const used = withResistor(task);
      let pass = await onePass(used, 1, { keeps: true, onProgress });
      const turned = pass !== undefined && looksReversed(pass.statistics);
      if (turned) pass = await onePass(used, -1, { keeps: true, onProgress });
      if (pass === undefined) return { stopped: true };
      const plan = task.setup === undefined ? undefined : planFor(task.setup, { observations: [] });
      const { head, end, statistics } = pass;
      const sign = turned ? -1 : 1;
      const source = pass.kept?.source() ?? (head.stored && fileSource(task.file, head.stored, sign));
      const samples = sampleStore(statistics.pyramid, source);
      held = { task: used, plan, sign, pass, samples };
      const reading = readingOf(held);
      return { head, end, finest: samples.finest, reading, resistor: resistorTold(task.told, reading) };
    });
  },
  async walks(
    typed: WalksTyped,
    setup: Setup | undefined,
    onProgress?: (share: number) => void,
  ): Promise<WalksAnswer> {
    turn++;
    return guarded(async () => {
      const told = toldOf(typed);
      if (held === undefined) return { walks: flowOnly(told, setup) };
      const pass = await passFor(held, windowOfWalks(told), onProgress);
      if (pass === undefined) return { stopped: true };
      const { plan } = held;
      const read = readWalks(readingOf({ ...held, pass }), pass.head, told, plan);
      return { walks: { ...read, ...(plan && { planned: plannedOf(plan) }) } };
    });
  },
  stop(): void {
    turn++;
  },
  /** Between two sample numbers, in as many columns. */
  async view(from: number, to: number, columns: number): Promise<TraceView | undefined> {
    return held?.samples.view(from, to, columns);
  },
};
export type TraceWork = typeof work;

interface Pass {
  head: TraceHead;
  end: TraceEnd;
  statistics: CurrentStatistics;
  longest_s: number | undefined;
  kept: KeptSamples | undefined;
}

/** The pass whose windows are no longer than the walk's steps ask for; the file is read again only where they are shorter. */
async function passFor(
  from: Held,
  longest_s: number | undefined,
  onProgress: ((share: number) => void) | undefined,
): Promise<Pass | undefined> {
  if (longest_s === undefined || longest_s >= from.pass.statistics.window_s) return from.pass;
  if (from.finer?.longest_s === longest_s) return from.finer;
  const finer = await onePass(from.task, from.sign, {
    longest_s,
    earlier: from.pass.statistics,
    onProgress: onProgress && ((bytes) => onProgress(bytes / from.task.file.size)),
  });
  if (finer && held === from) held = { ...from, finer };
  return finer;
}

/** With the meter beside it the resistor works as a smaller one. */
function withResistor(task: TraceTask): TraceTask {
  const effective = resistorTold(task.told)?.effective_MOhm;
  if (effective === undefined) return task;
  const resistor_MOhm = effective;
  return { ...task, options: { ...task.options, resistor_MOhm }, told: { ...task.told, resistor_MOhm } };
}

function readingOf({ task, plan, sign, pass: { head, end, statistics } }: Held): CurrentReading {
  return readCurrent(statistics, { ...traceContext(head, end, task.told, plan), turned: sign < 0 });
}

function toldOf({ voltage, voltage_at, series_MOhm, flow }: WalksTyped): WalksTold {
  return {
    ...(voltage && { voltage: voltageTold(voltage.text, voltage.name), voltage_at, series_MOhm }),
    ...(flow && { flow: flowTold(flow.text, flow.name) }),
  };
}

/** Typed currents need no trace. */
function flowOnly({ voltage, flow }: WalksTold, setup: Setup | undefined): WalksOpened {
  if (voltage !== undefined || flow?.some((step) => step.current_nA === undefined))
    throw inputError('missing', 'trace', 'none is open', 'a trace, or a flow table with current_nA');
  if (flow === undefined) return {};
  const plan = setup && planFor(setup, { observations: [] });
  return { flow_walk: readFlowWalk(flow, undefined, plan && surfaceTensionOf(plan)) };
}

function plannedOf({ onset_V, window_low_V, window_high_V }: Plan): PlannedWindow {
  return { onset_V, window_low_V, window_high_V };
}

/** Progress is told no oftener. */
const PROGRESS_MS = 100;
const breaths = breath();

interface PassOptions {
  longest_s?: number | undefined;
  /** Of the same file: what does not hang on the windows is taken from there. */
  earlier?: CurrentStatistics;
  /** Keeps the samples for the views while they fit. */
  keeps?: boolean;
  onProgress?: ((bytes: number, sign: 1 | -1) => void) | undefined;
}

/** Undefined where the person stopped it. */
async function onePass(
  { file, sidecar, options }: TraceTask,
  sign: 1 | -1,
  { longest_s, earlier, keeps, onProgress }: PassOptions,
): Promise<Pass | undefined> {
  const own = turn;
  let kept: KeptSamples | undefined;
  const pass = tracePass({ bytes: file.size, sign, longest_s, earlier });
  const reader = traceReader(
    sidecar === undefined ? options : { ...options, sidecar: rawSidecar(sidecar, options.raw_step) },
    {
      head(head) {
        pass.sink.head(head);
        if (keeps) kept = keptSamples(roomFor(head.stored));
      },
      block(block) {
        pass.sink.block(block);
        kept?.push(block.current, block.count);
      },
    },
  );
  const pieces = filePieces(file);
  let read = 0;
  let told = performance.now();
  for (let piece = await pieces.next(); piece !== undefined; piece = await pieces.next()) {
    reader.push(piece);
    read += piece.length;
    await breaths.take();
    if (own !== turn) {
      await pieces.cancel();
      return undefined;
    }
    if (performance.now() - told < PROGRESS_MS) continue;
    told = performance.now();
    onProgress?.(read, sign);
  }
  onProgress?.(read, sign);
  const end = reader.end();
  return { ...pass.end(), end, longest_s, kept };
}

async function guarded<T>(run: () => Promise<T | Refused>): Promise<T | Refused> {
  try {
    return await run();
  } catch (trouble) {
    if (trouble instanceof InputError) return { faults: trouble.faults };
    return { trouble: saidBy(trouble) };
  }
}

expose(work);
