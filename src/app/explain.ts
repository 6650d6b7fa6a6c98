/**
 * Explains a run: its reading (kept, or read now from a file), the emitter's earlier runs on the bench, its plan and the
 * person's answers, joined into ranked causes and the next test. What was done is kept as notes when asked.
 */
import type { BenchItem, ExplainLog, ExplainRequest } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import { type Plan, planFor } from '../core/plan/index.ts';
import type { Setup } from '../core/setup.ts';
import {
  type Explained,
  type ExplainInput,
  explainRun,
  type OlderRun,
  type RunContext,
} from '../evidence/explain/index.ts';
import type { RunReading } from '../evidence/index.ts';
import { queueLabel } from '../store/index.ts';
import type { Bench } from './bench.ts';
import { keptRunReading } from './kept-reading.ts';
import { storedFiles } from './queue/stored-queue.ts';
import { readOneRun } from './read-one-run.ts';

export interface ExplainSource extends Omit<ExplainRequest, 'answers' | 'cannot'> {
  /** A run file that is read now and not kept. */
  file?: string | undefined;
}

/** A note holds so many characters; a longer log becomes several. */
const NOTE_LENGTH = 1900;

/** The explanation for more or other answers, without reading anything again. */
export type ExplainMore = (
  answers: readonly { observable: string; outcome: string }[],
  cannot: readonly string[],
) => Explained;

export async function explainKept(bench: Bench | undefined, request: ExplainRequest): Promise<Explained> {
  const more = await explainSession(bench, request);
  return more(request.answers ?? [], request.cannot ?? []);
}

/** Reads what the request names once; the answers may then grow. */
export async function explainSession(bench: Bench | undefined, request: ExplainSource): Promise<ExplainMore> {
  if (request.file !== undefined && request.reading_id !== undefined)
    throw inputError('invalid', 'reading', request.reading_id, 'a run file or a kept reading, not both');
  const given =
    request.file !== undefined
      ? await runOfFile(request.file)
      : request.reading_id !== undefined
        ? await runOfBench(bench, request.reading_id)
        : null;
  const history = await historyOf(bench, request.emitter, given);
  const beside: ExplainInput = {
    current: request.current,
    frames: request.frames,
    ...(given ? { run: contextOf(given, history) } : {}),
    ...(request.setup ? { plan: { setup: request.setup, plan: planOf(request.setup) } } : {}),
  };
  return (answers, cannot) => ({
    ...explainRun({ ...beside, answers, cannot }),
    reading_id: given?.reading_id ?? null,
    file: given?.name ?? null,
    emitter: history.label,
    earlier_runs: history.older.length,
    invented: given?.reading.invented ?? false,
  });
}

/** Keeps what was done, dated, as notes on the reading, run, plan, set-up or emitter it was done for. */
export async function keepExplainLog(
  bench: Bench,
  { on, lines, who = '' }: ExplainLog,
): Promise<BenchItem[]> {
  const kept: BenchItem[] = [];
  for (const text of notesOf(lines)) kept.push(await bench.note({ on, text, who }));
  return kept;
}

interface GivenRun {
  reading: RunReading;
  name: string;
  sha256: string | null;
  began: string | null;
  reading_id: string | null;
}

async function runOfFile(path: string): Promise<GivenRun> {
  const { reading, name, sha256, started } = await readOneRun(path);
  return { reading, name, sha256, began: started, reading_id: null };
}

async function runOfBench(bench: Bench | undefined, id: string): Promise<GivenRun> {
  if (bench === undefined)
    throw inputError('missing', 'bench', '', 'a bench that holds the reading, or a run file instead');
  const { reading, name, sha256, id: reading_id } = await keptRunReading(bench, id);
  return { reading, name, sha256, began: null, reading_id };
}

/** A session asks many times about one set-up; its plan is computed once. */
const recent: { text: string; plan: Plan }[] = [];
const RECENT_MOST = 8;

function planOf(setup: Setup): Plan {
  const text = JSON.stringify(setup);
  const known = recent.find((one) => one.text === text);
  if (known) return known.plan;
  const plan = planFor(setup);
  recent.unshift({ text, plan });
  recent.length = Math.min(recent.length, RECENT_MOST);
  return plan;
}

function contextOf(given: GivenRun, { older, began }: History): RunContext {
  return { reading: given.reading, from: given.name, began: given.began ?? began, older };
}

interface History {
  label: string | null;
  older: OlderRun[];
  began: string | null;
}

/** The runs of a queue before this one; the queue is the one asked for, else the newest that holds the run. */
async function historyOf(
  bench: Bench | undefined,
  asked: string | undefined,
  given: GivenRun | null,
): Promise<History> {
  if (bench === undefined) {
    if (asked !== undefined)
      throw inputError('missing', 'bench', '', 'a bench that holds the runs of the emitter');
    return { label: null, older: [], began: null };
  }
  const label = asked === undefined ? await labelHolding(bench, given?.sha256) : queueLabel(asked);
  if (label === undefined) return { label: null, older: [], began: null };
  const files = (await storedFiles(bench, label)).filter(
    (file) => file.summary !== null && file.same_as === null,
  );
  if (asked !== undefined && files.length === 0)
    throw inputError(
      'unknown',
      'queue',
      `"${label}"`,
      'a label that runs were read under; see `steadycone bench queues`',
    );
  const own = files.findIndex((file) => file.sha256 === given?.sha256);
  const before = own < 0 ? files : files.slice(0, own);
  return {
    label,
    older: before.map(({ summary, began }) => ({ summary: summary!, began })),
    began: own < 0 ? null : files[own]!.began,
  };
}

async function labelHolding(bench: Bench, sha256: string | null | undefined): Promise<string | undefined> {
  if (!sha256) return undefined;
  for (const { label } of await bench.store.queueLabels())
    if ((await bench.store.queuedRuns(label)).some((run) => run.sha256 === sha256)) return label;
  return undefined;
}

function notesOf(lines: readonly string[]): string[] {
  const notes: string[] = [];
  let text = '';
  for (const line of lines) {
    if (text !== '' && text.length + line.length + 1 > NOTE_LENGTH) {
      notes.push(text);
      text = '';
    }
    text = text === '' ? line : `${text}\n${line}`;
  }
  return [...notes, text];
}
