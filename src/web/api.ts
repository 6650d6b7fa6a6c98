/** The page's way to its server: same origin, JSON, errors as one sentence. */
import type { BenchEntry, BenchItem, NoteRequest } from '../contract/index.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { Observation } from '../core/window/index.ts';
import type { FileAgainstEarlier } from '../evidence/against/earlier-good.ts';
import type { EmitterComparison } from '../evidence/queue/compare.ts';
import type { QueueReport } from '../evidence/queue/report-types.ts';
import type { RunReading } from '../evidence/run-reading.ts';

export interface KeptPlan {
  setup_id: string;
  plan_id: string;
  plan: Plan;
}

/** Without ids where the bench could not keep it; `not_kept` then says why. */
export interface KeptRun {
  run_id?: string;
  reading_id?: string;
  not_kept?: string;
  reading: RunReading;
}

export interface QueueLabel {
  label: string;
  runs: number;
  last: string;
  invented: boolean;
}

export interface StoredQueue {
  report: QueueReport;
  alert: { raised_at: string; sentence: string } | null;
}

export interface UploadHooks {
  onSent: (sent: number, total: number) => void;
  signal: AbortSignal;
}

export function benchItems(kind: string, q: string): Promise<{ items: BenchItem[] }> {
  const query = new URLSearchParams();
  if (kind !== '') query.set('kind', kind);
  if (q !== '') query.set('q', q);
  return ask(`/api/bench?${query}`);
}

export function benchEntry(id: string): Promise<BenchEntry> {
  return ask(`/api/bench/${encodeURIComponent(id)}`);
}

export function queueLabels(): Promise<{ queues: QueueLabel[] }> {
  return ask('/api/queues');
}

export function queueOf(label: string): Promise<StoredQueue> {
  return ask(queueAddress(label));
}

export function comparisonOf(label: string, other: string): Promise<EmitterComparison> {
  return ask(`${queueAddress(label, 'against')}?${new URLSearchParams({ of: other })}`);
}

export function earlierOf(label: string): Promise<{ files: FileAgainstEarlier[] }> {
  return ask(queueAddress(label, 'earlier'));
}

/** Address of a queue, or of one of its files: csv, svg, html, mzqc. */
export function queueAddress(label: string, as?: string): string {
  return `/api/queues/${encodeURIComponent(label)}${as === undefined ? '' : `/${as}`}`;
}

export function keepPlan(
  setup: unknown,
  who: string,
  { observations, sibling }: { observations: readonly Observation[]; sibling: boolean },
): Promise<KeptPlan> {
  return ask(
    `/api/plans${whoQuery(who)}`,
    jsonBody(observations.length === 0 ? setup : { setup, observations, sibling }),
  );
}

export function keepSetup(setup: unknown, who: string): Promise<{ setup_id: string }> {
  return ask(`/api/setups${whoQuery(who)}`, jsonBody(setup));
}

/** Who keeps it, as a query; nothing where nobody is named. */
export function whoQuery(who: string): string {
  return who === '' ? '' : `?${new URLSearchParams({ who })}`;
}

export function keepNote(note: NoteRequest): Promise<unknown> {
  return ask('/api/notes', jsonBody(note));
}

export interface RunAsked {
  who: string;
  /** Id of the set-up on the bench; '' is none. */
  setup: string;
  /** Minutes to leave out, such as 0-3,55-60; '' is none. */
  mask: string;
}

/** Sends a file as it is read from disk; `signal` stops it. XMLHttpRequest, since fetch reports no upload progress. */
export function keepRun(file: File, asked: RunAsked, hooks: UploadHooks): Promise<KeptRun> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    const query = new URLSearchParams({ name: file.name });
    for (const [key, value] of Object.entries(asked)) if (value !== '') query.set(key, value);
    request.open('PUT', `/api/runs?${query}`);
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.responseType = 'text';
    request.upload.onprogress = (event) => hooks.onSent(event.loaded, file.size);
    request.upload.onload = () => hooks.onSent(file.size, file.size);
    request.onload = () => {
      try {
        resolve(answerOf<KeptRun>(request.status, request.responseText));
      } catch (trouble) {
        reject(trouble);
      }
    };
    request.onerror = () => reject(new Error('The connection to the server broke; is it still running?'));
    request.onabort = () => reject(new DOMException('cancelled', 'AbortError'));
    hooks.signal.addEventListener('abort', () => request.abort());
    request.send(file);
  });
}

export async function ask<T>(path: string, init?: RequestInit): Promise<T> {
  let reply: Response;
  try {
    reply = await fetch(path, init);
  } catch {
    throw new Error('The server does not answer; is it still running?');
  }
  return answerOf<T>(reply.status, await reply.text());
}

export function jsonBody(value: unknown): RequestInit {
  return { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(value) };
}

function answerOf<T>(status: number, text: string): T {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new Error(`The server answered ${status} without a readable reply.`);
  }
  if (status >= 400) {
    const said = (value as { error?: unknown }).error;
    throw new Error(typeof said === 'string' ? said : `The server answered ${status}.`);
  }
  return value as T;
}
