/** The files a person chose together: the trace, beside it its JSON sidecar and a set-up. */
import type { Setup } from '../../core/setup.ts';
import {
  sidecarQuestions,
  type TraceOptions,
  type TracePreview,
  tracePreview,
} from '../../formats/trace/index.ts';
import { setupFromText } from '../plan/setup-text.ts';

export interface TraceFiles {
  trace: File;
  /** The document of the sidecar. */
  sidecar?: unknown;
  setup?: { setup: Setup; document: unknown };
}

const SETUP_NAMES = /\.ya?ml$/i;
const SIDECAR_NAMES = /\.json$/i;
/** What the reader looks at before it settles how a table is written. */
const PREVIEW_BYTES = 1 << 15;

/** Undefined where no trace is among them; throws with a line a person can act on. */
export async function traceFiles(chosen: readonly File[]): Promise<TraceFiles | undefined> {
  const trace = chosen.find(({ name }) => !SIDECAR_NAMES.test(name) && !SETUP_NAMES.test(name));
  if (trace === undefined) return undefined;
  const sidecar = chosen.find(({ name }) => SIDECAR_NAMES.test(name));
  const setup = chosen.find(({ name }) => SETUP_NAMES.test(name));
  const files: TraceFiles = { trace };
  if (sidecar) files.sidecar = await told(sidecar, async (text) => jsonOf(text));
  if (setup) files.setup = await told(setup, setupFromText);
  return files;
}

/** What is open before the file is read, by its first bytes or its sidecar. */
export async function openQuestions(
  { trace, sidecar }: TraceFiles,
  options: TraceOptions,
): Promise<TracePreview> {
  if (sidecar !== undefined)
    return { kind: 'raw', questions: sidecarQuestions(sidecar, options), beside: [], faults: [] };
  const bytes = new Uint8Array(await trace.slice(0, PREVIEW_BYTES).arrayBuffer());
  return tracePreview(bytes, options, bytes.length === trace.size);
}

async function told<T>(file: File, read: (text: string) => Promise<T>): Promise<T> {
  try {
    return await read(await file.text());
  } catch (trouble) {
    const said = trouble instanceof Error ? trouble.message : String(trouble);
    throw new Error(
      said
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
