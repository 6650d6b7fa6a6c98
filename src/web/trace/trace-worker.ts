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
import {
  type KeptSamples,
  keptSamples,
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
  samples: SampleStore;
}

let held: Held | undefined;
/** Counts what was asked; an earlier pass ends at its next piece. */
let turn = 0;

const work = {
  async open(task: TraceTask, onProgress?: (bytes: number) => void): Promise<OpenAnswer> {
    turn++;
    held = undefined;
    return guarded(async () => {
      const used = withResistor(task);
      let kept = keptSamples();
      let pass = await onePass(used, 1, { kept, onProgress });
      const turned = pass !== undefined && looksReversed(pass.statistics);
      if (turned) {
        kept = keptSamples();
        pass = await onePass(used, -1, { kept, onProgress });
      }
      if (pass === undefined) return { stopped: true };
      const plan = task.setup === undefined ? undefined : planFor(task.setup, { observations: [] });
      const { head, end, statistics } = pass;
      const samples = sampleStore(kept, statistics.pyramid);
      held = { task: used, plan, sign: turned ? -1 : 1, pass, samples };
      const reading = readingOf(held);
      return { head, end, finest: samples.finest, reading, resistor: resistorTold(task.told, reading) };
    });
  },
  async walks(typed: WalksTyped, setup: Setup | undefined): Promise<WalksAnswer> {
    turn++;
    return guarded(async () => {
      const told = toldOf(typed);
      if (held === undefined) return { walks: flowOnly(told, setup) };
      const window_s = windowOfWalks(told);
      if (window_s !== held.pass.window_s) {
        const again = await onePass(held.task, held.sign, { window_s });
        if (again === undefined) return { stopped: true };
        held = { ...held, pass: again };
      }
      const { plan, pass } = held;
      const read = readWalks(readingOf(held), pass.head, told, plan);
      return { walks: { ...read, ...(plan && { planned: plannedOf(plan) }) } };
    });
  },
  stop(): void {
    turn++;
  },
  /** Between two sample numbers, in as many columns. */
  view(from: number, to: number, columns: number): TraceView | undefined {
    return held?.samples.view(from, to, columns);
  },
};
export type TraceWork = typeof work;

interface Pass {
  head: TraceHead;
  end: TraceEnd;
  statistics: CurrentStatistics;
  window_s: number | undefined;
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

interface PassOptions {
  window_s?: number | undefined;
  /** Takes in the samples for the views. */
  kept?: KeptSamples | undefined;
  onProgress?: ((bytes: number) => void) | undefined;
}

/** Undefined where the person stopped it. */
async function onePass(
  { file, sidecar, options }: TraceTask,
  sign: 1 | -1,
  { window_s, kept, onProgress }: PassOptions,
): Promise<Pass | undefined> {
  const own = turn;
  const pass = tracePass({ bytes: file.size, sign, window_s });
  const reader = traceReader(
    sidecar === undefined ? options : { ...options, sidecar: rawSidecar(sidecar, options.raw_step) },
    {
      head: pass.sink.head,
      block(block) {
        pass.sink.block(block);
        kept?.push(block.current, block.count);
      },
    },
  );
  const bytes = file.stream().getReader();
  let read = 0;
  for (;;) {
    const { done, value } = await bytes.read();
    if (done) break;
    if (own !== turn) {
      await bytes.cancel();
      return undefined;
    }
    reader.push(value);
    read += value.length;
    onProgress?.(read);
  }
  const end = reader.end();
  return { ...pass.end(), end, window_s };
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
