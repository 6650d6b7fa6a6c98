/** The files a person chose together: the trace, beside it its JSON sidecar and a set-up. */
import type { Setup } from '../../core/setup.ts';
import {
  sidecarQuestions,
  type TraceOptions,
  type TracePreview,
  tracePreview,
} from '../../formats/trace/index.ts';
import { setupFromText } from '../plan/setup-text.ts';
import { saidBy } from '../said-by.ts';

export interface TraceFiles {
  trace: File;
  /** Its first bytes: what the reader looks at before it settles how a table is written. */
  start: Uint8Array;
  /** The document of the sidecar. */
  sidecar?: unknown;
  setup?: { setup: Setup; document: unknown };
}

const SETUP_NAMES = /\.ya?ml$/i;
const SIDECAR_NAMES = /\.json$/i;
const PREVIEW_BYTES = 1 << 15;

/** Undefined where no trace is among them; throws with a line a person can act on. */
export async function traceFiles(chosen: readonly File[]): Promise<TraceFiles | undefined> {
  const trace = chosen.find(({ name }) => !SIDECAR_NAMES.test(name) && !SETUP_NAMES.test(name));
  if (trace === undefined) return undefined;
  const sidecar = chosen.find(({ name }) => SIDECAR_NAMES.test(name));
  const setup = chosen.find(({ name }) => SETUP_NAMES.test(name));
  const start = new Uint8Array(await trace.slice(0, PREVIEW_BYTES).arrayBuffer());
  const files: TraceFiles = { trace, start };
  if (sidecar) files.sidecar = await told(sidecar, async (text) => jsonOf(text));
  if (setup) files.setup = await told(setup, setupFromText);
  return files;
}

/** What is open before the file is read, by its first bytes or its sidecar. */
export function openQuestions({ trace, start, sidecar }: TraceFiles, options: TraceOptions): TracePreview {
  if (sidecar !== undefined)
    return { kind: 'raw', questions: sidecarQuestions(sidecar, options), beside: [], faults: [] };
  return tracePreview(start, options, start.length === trace.size);
}

async function told<T>(file: File, read: (text: string) => Promise<T>): Promise<T> {
  try {
    return await read(await file.text());
  } catch (trouble) {
    throw new Error(
      saidBy(trouble)
        .split('\n')
        .map((line) => `${file.name}: ${line}`)
        .join('\n'),
    );
  }
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Error('no JSON; expected an object as docs/reading-current.md shows it');
  }
}
