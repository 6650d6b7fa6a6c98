/**
 * Adding to the bench. What is there already is found by its content and returned, never written twice; nothing is ever
 * changed or deleted. A plan or a reading is the same when its subject, its content and the computing version are.
 */
import type { Kysely } from 'kysely';
import type { BenchKind, NoteRequest } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { EmitterSpec, Setup } from '../core/setup.ts';
import { contentHash } from './content-hash.ts';
import { itemId, itemKey, unknownItem } from './ids.ts';
import { noteRequestFrom } from './note-request.ts';
import { type QueueWriter, queueWriterOn } from './queues.ts';
import { type Tables, tableOf } from './tables.ts';
import { emitterTitle, liquidWords, oneLine, planTitle, searchWords, setupTitle } from './titles.ts';

/** Who stored it, when (ISO 8601, UTC), with which version, and whether it is invented. */
export interface Stamp {
  who: string;
  when: string;
  version: string;
  invented: boolean;
}

export interface Added {
  id: string;
  /** False when the same content was there already. */
  created: boolean;
}

export interface RunFacts {
  sha256: string;
  /** File name without folders. */
  name: string;
  bytes: number;
  format: string;
  ms1_count: number;
}

export interface ReadingFacts {
  title: string;
  document: unknown;
}

export interface PointFacts {
  title: string;
  /** Names a search finds it by. */
  words: readonly string[];
  document: unknown;
}

export interface Writer extends QueueWriter {
  addSetup(setup: Setup, stamp: Stamp): Promise<Added & { emitter_id: string }>;
  addPlan(setup_id: string, plan: Plan, stamp: Stamp): Promise<Added>;
  addRun(run: RunFacts, stamp: Stamp): Promise<Added>;
  addReading(run_id: string, reading: ReadingFacts, stamp: Stamp): Promise<Added>;
  /** `emitter_id`: the emitter on the bench, where its geometry is known. */
  addPoint(emitter_id: string | undefined, point: PointFacts, stamp: Stamp): Promise<Added>;
  note(request: NoteRequest, stamp: Stamp): Promise<Added>;
}

/** `db` must be inside a transaction: some calls write several rows. */
export function writerOn(db: Kysely<Tables>): Writer {
  return {
    ...queueWriterOn(db),

    async addSetup(setup, stamp) {
      const emitter = await addEmitter(db, setup.emitter, stamp);
      const title = setupTitle(setup);
      const search = searchWords(
        title,
        emitterTitle(setup.emitter),
        liquidWords(setup.liquid),
        setup.feed.kind,
      );
      const hash = contentHash(setup);
      const row = {
        ...stamped(stamp, title, search),
        hash,
        emitter_id: emitter.number,
        document: json(setup),
      };
      const { number, created } = await inserted(
        db.insertInto('setups').values(row).onConflict(ignored).returning('id').executeTakeFirst(),
        () =>
          db
            .selectFrom('setups')
            .select('id')
            .where('hash', '=', hash)
            .where('invented', '=', row.invented)
            .executeTakeFirstOrThrow(),
      );
      return { id: itemId('setup', number), emitter_id: itemId('emitter', emitter.number), created };
    },

    async addPlan(setup_id, plan, stamp) {
      const subject = await existing(db, setup_id, ['setup']);
      const title = planTitle(plan);
      const hash = contentHash(plan);
      const search = searchWords(title, subject.title);
      const row = { ...stamped(stamp, title, search), hash, setup_id: subject.number, document: json(plan) };
      const { number, created } = await inserted(
        db.insertInto('plans').values(row).onConflict(ignored).returning('id').executeTakeFirst(),
        () =>
          db
            .selectFrom('plans')
            .select('id')
            .where('setup_id', '=', subject.number)
            .where('version', '=', stamp.version)
            .where('hash', '=', hash)
            .executeTakeFirstOrThrow(),
      );
      return { id: itemId('plan', number), created };
    },

    async addRun(run, stamp) {
      const title = oneLine(run.name) || `run ${run.sha256.slice(0, 12)}`;
      const search = searchWords(title, run.format, run.sha256);
      const document = json({ ...run, name: title });
      const row = { ...stamped(stamp, title, search), sha256: run.sha256, document };
      const { number, created } = await inserted(
        db.insertInto('runs').values(row).onConflict(ignored).returning('id').executeTakeFirst(),
        () => db.selectFrom('runs').select('id').where('sha256', '=', run.sha256).executeTakeFirstOrThrow(),
      );
      return { id: itemId('run', number), created };
    },

    async addReading(run_id, reading, stamp) {
      const subject = await existing(db, run_id, ['run']);
      const title = oneLine(reading.title);
      const hash = contentHash(reading.document);
      const document = json(reading.document);
      const search = searchWords(title, subject.title);
      const row = { ...stamped(stamp, title, search), hash, run_id: subject.number, document };
      const { number, created } = await inserted(
        db.insertInto('readings').values(row).onConflict(ignored).returning('id').executeTakeFirst(),
        () =>
          db
            .selectFrom('readings')
            .select('id')
            .where('run_id', '=', subject.number)
            .where('version', '=', stamp.version)
            .where('hash', '=', hash)
            .executeTakeFirstOrThrow(),
      );
      return { id: itemId('reading', number), created };
    },

    async addPoint(emitter_id, point, stamp) {
      const emitter = emitter_id === undefined ? undefined : await existing(db, emitter_id, ['emitter']);
      const title = oneLine(point.title);
      const hash = contentHash(point.document);
      const search = searchWords(title, 'working point', ...point.words, emitter?.title);
      const row = {
        ...stamped(stamp, title, search),
        hash,
        emitter_id: emitter?.number ?? null,
        document: json(point.document),
      };
      const { number, created } = await inserted(
        db.insertInto('points').values(row).onConflict(ignored).returning('id').executeTakeFirst(),
        () =>
          db
            .selectFrom('points')
            .select('id')
            .where('version', '=', stamp.version)
            .where('hash', '=', hash)
            .executeTakeFirstOrThrow(),
      );
      return { id: itemId('point', number), created };
    },

    async note(request, stamp) {
      const { on, text, who } = noteRequestFrom(request);
      const subject = await existing(db, on, ['emitter', 'setup', 'plan', 'run', 'reading', 'point']);
      const search = searchWords(text, subject.title);
      const row = {
        ...stamped({ ...stamp, who }, oneLine(text), search),
        on_item: on,
        document: json({ text }),
      };
      const { id } = await db.insertInto('notes').values(row).returning('id').executeTakeFirstOrThrow();
      return { id: itemId('note', id), created: true };
    },
  };
}

async function addEmitter(db: Kysely<Tables>, emitter: EmitterSpec, stamp: Stamp): Promise<Kept> {
  const title = emitterTitle(emitter);
  const hash = contentHash(emitter);
  const row = { ...stamped(stamp, title, searchWords(title)), hash, document: json(emitter) };
  return inserted(
    db.insertInto('emitters').values(row).onConflict(ignored).returning('id').executeTakeFirst(),
    () =>
      db
        .selectFrom('emitters')
        .select('id')
        .where('hash', '=', hash)
        .where('invented', '=', row.invented)
        .executeTakeFirstOrThrow(),
  );
}

interface Kept {
  number: number;
  created: boolean;
}

/** The new row, or the one whose content kept it out. */
async function inserted(
  fresh: Promise<{ id: number } | undefined>,
  same: () => Promise<{ id: number }>,
): Promise<Kept> {
  const row = await fresh;
  return row ? { number: row.id, created: true } : { number: (await same()).id, created: false };
}

const ignored = <T>(conflict: { doNothing(): T }): T => conflict.doNothing();

async function existing(
  db: Kysely<Tables>,
  id: string,
  kinds: readonly BenchKind[],
): Promise<{ number: number; title: string }> {
  const key = itemKey(id);
  if (!kinds.includes(key.kind)) {
    throw inputError('invalid', 'subject', `"${id}"`, `the id of a thing of kind ${kinds.join(', ')}`);
  }
  const row = await db
    .selectFrom(tableOf[key.kind])
    .select(['id', 'title'])
    .where('id', '=', key.number)
    .executeTakeFirst();
  if (!row) throw unknownItem(id);
  return { number: row.id, title: row.title };
}

/** Longest name of a person kept with an entry. */
const WHO_LENGTH = 80;

function stamped(stamp: Stamp, title: string, search: string) {
  return {
    title,
    stored_at: stamp.when,
    who: oneLine(stamp.who, WHO_LENGTH),
    version: stamp.version,
    invented: stamp.invented ? 1 : 0,
    search: searchWords(search, stamp.who, stamp.invented ? 'invented' : undefined),
  };
}

function json(document: unknown): string {
  return JSON.stringify(document);
}
