/**
 * A settle session as a file: one JSON document a line, the session first, then one line for each reading, only ever appended
 * and flushed before the advice is given. A crash loses at most the line that was being written, which is said and left out.
 */
import { open, readFile, rm, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { LineCounter, parseDocument } from 'yaml';
import {
  type SettleDocument,
  settleProofFrom,
  settleReadingFrom,
  settleSessionFrom,
} from '../contract/index.ts';
import { InputError, inputError } from '../core/errors.ts';
import {
  fromSetup,
  type SettleProof,
  type SettleReading,
  type SettleSession,
} from '../core/settling/index.ts';
import type { Setup } from '../core/setup.ts';

export interface SettleLog {
  path: string;
  began: Date;
  session: SettleSession;
  setup?: Setup;
  warnings: string[];
}

const FORMAT = 1;
/** A lock older than this was left by a crash: one write takes milliseconds. */
const LOCK_STALE_MS = 5000;
const LOCK_WAIT_MS = 20;
const LOCK_TRIES = 500;
const BYTES_MAX = 16 * 1024 * 1024;
const EXPECTED = 'a settle log; `steadycone settle new LOG --session FILE` begins one';

/** A session document from a YAML or JSON file, the set-up from its own file where one is given. */
export async function loadSettleDocument(path: string): Promise<SettleDocument> {
  return settleSessionFrom(documentFrom(await textOf(path, 'session file'), 'session document'));
}

/** The session with what its set-up's plan tells of it; what the person stated wins. */
export function preparedSession({ session, setup, followGradient }: SettleDocument): SettleSession {
  if (setup === undefined) return session;
  const { onset, discharge_limit_V, onset_course } = fromSetup(setup, session, followGradient);
  const flow = session.flow_nL_min ?? (setup.feed.kind === 'pumped' ? setup.feed.flow_nL_min : undefined);
  return {
    ...session,
    polarity: setup.polarity,
    onset: session.onset ?? onset,
    ...(flow === undefined ? {} : { flow_nL_min: flow }),
    ...limitOf(session, discharge_limit_V),
    ...courseOf(session, onset_course),
  };
}

function limitOf(session: SettleSession, fromPlan: number | undefined): Partial<SettleSession> {
  const limit = session.discharge_limit_V ?? fromPlan;
  if (limit === undefined) return {};
  if (session.start.voltage_V > limit)
    throw inputError(
      'out of range',
      'start.voltage_V',
      `${session.start.voltage_V} V`,
      `at most ${limit} V, where the plan of this set-up expects a discharge, or a discharge_limit_V of your own`,
    );
  return { discharge_limit_V: limit };
}

function courseOf(
  session: SettleSession,
  fromPlan: SettleSession['onset_course'],
): Pick<SettleSession, 'onset_course'> {
  const course = session.onset_course ?? fromPlan;
  return course === undefined ? {} : { onset_course: course };
}

/** Begins a log; never over another file. */
export async function newSettleLog(
  path: string,
  document: SettleDocument,
  now: Date = new Date(),
): Promise<SettleLog> {
  const { readings: _, proofs: _proofs, ...session } = preparedSession(document);
  const { setup } = document;
  const head = {
    settle: FORMAT,
    began: now.toISOString(),
    session,
    ...(setup === undefined ? {} : { setup }),
  };
  const file = await open(path, 'wx').catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'EEXIST'
      ? inputError('invalid', 'settle log', path, 'a file that does not exist yet')
      : inputError('invalid', 'settle log', `${path} (${error.code ?? 'unknown'})`, 'a place you may write');
  });
  try {
    await file.writeFile(`${JSON.stringify(head)}\n`);
    await file.sync();
  } finally {
    await file.close();
  }
  return openSettleLog(path);
}

export async function openSettleLog(path: string): Promise<SettleLog> {
  const text = await textOf(path, 'settle log');
  const whole = text.endsWith('\n');
  const lines = text.split('\n').filter((line) => line.trim() !== '');
  const warnings: string[] = [];
  const parsed: unknown[] = [];
  for (const [k, line] of lines.entries()) {
    try {
      parsed.push(JSON.parse(line));
    } catch {
      if (k === lines.length - 1 && !whole && k > 0)
        warnings.push(
          'The last line is cut off (a crash while it was written): it is left out, take that reading again.',
        );
      else
        throw inputError(
          'invalid',
          'settle log',
          `${basename(path)}, line ${k + 1}`,
          'one JSON document a line',
        );
    }
  }
  const head = headFrom(parsed[0], path);
  const readings: SettleReading[] = [];
  const proofs: SettleProof[] = [];
  for (const [k, entry] of parsed.slice(1).entries()) {
    const inner: object = entry !== null && typeof entry === 'object' ? entry : {};
    if ('reading' in inner) readings.push(settleReadingFrom(inner.reading));
    else if ('proof' in inner) proofs.push(settleProofFrom(inner.proof));
    else
      throw inputError(
        'invalid',
        'settle log',
        `${basename(path)}, line ${k + 2}`,
        'an entry with a reading or a proof',
      );
  }
  const late = readings.findIndex((r, k) => k > 0 && r.time_s < readings[k - 1]!.time_s);
  if (late > 0) warnings.push(`Reading ${late + 1} is earlier than the one before it.`);
  const session = { ...head.session, readings, ...(proofs.length === 0 ? {} : { proofs }) };
  return { path, ...head, session, warnings };
}

function headFrom(head: unknown, path: string): { began: Date; session: SettleSession; setup?: Setup } {
  if (head === null || typeof head !== 'object' || !('settle' in head) || !('session' in head))
    throw inputError('invalid', 'settle log', basename(path), EXPECTED);
  if (head.settle !== FORMAT)
    throw inputError('unknown', 'settle log version', String(head.settle), `version ${FORMAT}`);
  const began = new Date('began' in head ? String(head.began) : '');
  if (Number.isNaN(began.getTime()))
    throw inputError('invalid', 'began', 'no time', 'an ISO time in the first line');
  const inner: object = typeof head.session === 'object' && head.session !== null ? head.session : {};
  const document = settleSessionFrom('setup' in head ? { ...inner, setup: head.setup } : inner);
  const { session, setup } = document;
  return { began, session, ...(setup === undefined ? {} : { setup }) };
}

/** Appends one reading and flushes it to the disk before it returns; a cut last line is taken away first. */
export async function addReading(
  path: string,
  reading: SettleReading,
  when: Date = new Date(),
): Promise<void> {
  await append(path, { reading: settleReadingFrom(reading), when: when.toISOString() });
}

/** Appends what was read at the working point; the search does not learn from it. */
export async function addProof(path: string, proof: SettleProof): Promise<void> {
  await append(path, { proof: settleProofFrom(proof) });
}

/** Adds wait for one another, in this process and between processes: the file is looked at before it is written. */
async function append(path: string, entry: object): Promise<void> {
  const release = await heldAlone(path);
  try {
    await appendAlone(path, entry);
  } finally {
    await release();
  }
}

async function heldAlone(path: string): Promise<() => Promise<void>> {
  const lock = `${path}.lock`;
  for (let k = 0; k < LOCK_TRIES; k++) {
    try {
      await (await open(lock, 'wx')).close();
      return () => rm(lock, { force: true });
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      // A folder that is not there is told by the reading of the log itself.
      if (code === 'ENOENT' || code === 'ENOTDIR') return async () => {};
      if (code !== 'EEXIST')
        throw inputError('invalid', 'settle log', `${path} (${code ?? 'unknown'})`, 'a place you may write');
      const since =
        Date.now() -
        (await stat(lock)
          .catch(() => undefined)
          .then((s) => s?.mtimeMs ?? Date.now()));
      if (since > LOCK_STALE_MS) await rm(lock, { force: true });
      else await setTimeout(LOCK_WAIT_MS);
    }
  }
  throw inputError(
    'invalid',
    'settle log',
    `${basename(path)} is being written by another program`,
    `the reading once more; if nothing else runs, remove ${basename(lock)}`,
  );
}

async function appendAlone(path: string, entry: object): Promise<void> {
  const text = await textOf(path, 'settle log');
  const file = await open(path, 'r+');
  try {
    // A line without its end was never acknowledged unless it is whole JSON.
    let size = Buffer.byteLength(text);
    let lead = '';
    if (!text.endsWith('\n')) {
      const from = text.lastIndexOf('\n') + 1;
      if (isJson(text.slice(from))) lead = '\n';
      else size = Buffer.byteLength(text.slice(0, from));
      await file.truncate(size);
    }
    await file.write(`${lead}${JSON.stringify(entry)}\n`, size);
    await file.sync();
  } finally {
    await file.close();
  }
}

function isJson(line: string): boolean {
  try {
    JSON.parse(line);
    return true;
  } catch {
    return false;
  }
}

function documentFrom(text: string, what: string): unknown {
  const lines = new LineCounter();
  try {
    const parsed = parseDocument(text, { lineCounter: lines, prettyErrors: false });
    const error = parsed.errors[0];
    if (error === undefined) return parsed.toJS();
    const { line } = lines.linePos(error.pos[0]);
    throw inputError('invalid', what, `line ${line}, ${error.message.split('\n')[0]}`, 'YAML or JSON');
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw inputError('invalid', what, error instanceof Error ? error.message : String(error), 'YAML or JSON');
  }
}

async function textOf(path: string, what: string): Promise<string> {
  const fault = (error: NodeJS.ErrnoException) =>
    error.code === 'ENOENT' || error.code === 'ENOTDIR'
      ? inputError('missing', what, path, what === 'settle log' ? EXPECTED : 'a file that exists')
      : inputError('invalid', what, `${path} (${error.code ?? error.message})`, 'a file you may read');
  const { size } = await stat(path).catch((error) => {
    throw fault(error);
  });
  if (size > BYTES_MAX)
    throw inputError('out of range', what, `${basename(path)}, ${size} bytes`, 'at most 16 MB');
  return readFile(path, 'utf8').catch((error) => {
    throw fault(error);
  });
}
