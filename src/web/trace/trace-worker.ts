/**
 * Beside the page: reads a trace file as a stream, keeps what the views need, and reads the regimes in the same pass. The file
 * never leaves the browser. A trace that reads negative throughout is read again with its sign turned.
 */
import { expose } from 'comlink';
import { type Fault, InputError, inputError } from '../../core/errors.ts';
import { planFor } from '../../core/plan/index.ts';
import type { Setup } from '../../core/setup.ts';
import type { CurrentStatistics } from '../../core/signal/index.ts';
import {
  type CurrentReading,
  looksReversed,
  readCurrent,
  type TraceTold,
  traceContext,
  tracePass,
} from '../../evidence/current/index.ts';
import {
  rawSidecar,
  type TraceEnd,
  type TraceHead,
  type TraceOptions,
  traceReader,
} from '../../formats/trace/index.ts';
import { keptSamples, type SampleStore, sampleStore, type TraceView } from './sample-store.ts';

export interface TraceTask {
  file: Blob;
  sidecar?: string | undefined;
  options: TraceOptions;
  told: TraceTold;
  setup?: Setup | undefined;
}

export interface TraceOpened {
  head: TraceHead;
  end: TraceEnd;
  /** Samples of the finest view: 1 where single samples can be shown. */
  finest: number;
  reading: CurrentReading;
}

export type OpenAnswer = TraceOpened | { faults: readonly Fault[] } | { trouble: string } | { stopped: true };

let store: SampleStore | undefined;
let stopped = false;

const work = {
  async open(task: TraceTask, onProgress: (bytes: number) => void): Promise<OpenAnswer> {
    stopped = false;
    store = undefined;
    try {
      let pass = await onePass(task, 1, onProgress);
      const turned = pass !== undefined && looksReversed(pass.statistics);
      if (turned) pass = await onePass(task, -1, onProgress);
      if (pass === undefined) return { stopped: true };
      const { head, end, statistics, samples } = pass;
      const plan = task.setup === undefined ? undefined : planFor(task.setup);
      const reading = readCurrent(statistics, { ...traceContext(head, end, task.told, plan), turned });
      store = samples;
      return { head, end, finest: samples.finest, reading };
    } catch (trouble) {
      if (trouble instanceof InputError) return { faults: trouble.faults };
      return { trouble: trouble instanceof Error ? trouble.message : String(trouble) };
    }
  },
  stop(): void {
    stopped = true;
  },
  /** Between two sample numbers, in as many columns. */
  view(from: number, to: number, columns: number): TraceView | undefined {
    return store?.view(from, to, columns);
  },
};
export type TraceWork = typeof work;

interface Pass {
  head: TraceHead;
  end: TraceEnd;
  statistics: CurrentStatistics;
  samples: SampleStore;
}

/** Undefined where the person stopped it. */
async function onePass(
  { file, sidecar, options }: TraceTask,
  sign: 1 | -1,
  onProgress: (bytes: number) => void,
): Promise<Pass | undefined> {
  const kept = keptSamples();
  const pass = tracePass({ bytes: file.size, sign });
  const reader = traceReader(
    sidecar === undefined ? options : { ...options, sidecar: rawSidecar(parsed(sidecar)) },
    {
      head: pass.sink.head,
      block(block) {
        pass.sink.block(block);
        kept.push(block.current, block.count);
      },
    },
  );
  const bytes = file.stream().getReader();
  let read = 0;
  for (;;) {
    const { done, value } = await bytes.read();
    if (done) break;
    if (stopped) {
      await bytes.cancel();
      return undefined;
    }
    reader.push(value);
    read += value.length;
    onProgress(read);
  }
  const end = reader.end();
  const { head, statistics } = pass.end();
  return { head, end, statistics, samples: sampleStore(kept, statistics.pyramid) };
}

/** A sidecar that is no JSON is told like any other fault. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw inputError('invalid', 'sidecar', 'no JSON', 'a JSON object as docs/reading-current.md shows it');
  }
}

expose(work);
