/**
 * Numbered migrations: an ordered list that only ever grows at its end. A store records which it has seen; a record
 * that is not a beginning of this list means another program, or a newer one, wrote the file: nothing is touched then.
 */
import { type Kysely, sql } from 'kysely';
import { inputError } from '../core/errors.ts';
import type { Tables } from './tables.ts';

export interface Migration {
  number: number;
  name: string;
  statements: readonly string[];
}

const stamp = `id integer primary key autoincrement, title text not null, stored_at text not null, who text not null,
  version text not null, invented integer not null check (invented in (0, 1)), search text not null`;

const itemColumns = 'id as number, title, stored_at, who, version, invented, search';

export const migrations: readonly Migration[] = [
  {
    number: 1,
    name: 'bench',
    statements: [
      `create table emitters (${stamp}, hash text not null, document text not null, unique (hash, invented))`,
      `create table setups (${stamp}, hash text not null, emitter_id integer not null references emitters (id),
        document text not null, unique (hash, invented))`,
      `create table plans (${stamp}, hash text not null, setup_id integer not null references setups (id),
        document text not null, unique (setup_id, version, hash))`,
      `create table runs (${stamp}, sha256 text not null unique, document text not null)`,
      `create table readings (${stamp}, hash text not null, run_id integer not null references runs (id),
        document text not null, unique (run_id, version, hash))`,
      `create table notes (${stamp}, on_item text not null, document text not null)`,
      `create index setups_emitter on setups (emitter_id)`,
      `create index notes_on_item on notes (on_item)`,
      `create view items as
        select 'emitter' as kind, ${itemColumns}, null as on_item from emitters
        union all select 'setup', ${itemColumns}, 'emitter-' || emitter_id from setups
        union all select 'plan', ${itemColumns}, 'setup-' || setup_id from plans
        union all select 'run', ${itemColumns}, null from runs
        union all select 'reading', ${itemColumns}, 'run-' || run_id from readings
        union all select 'note', ${itemColumns}, on_item from notes`,
    ],
  },
  {
    number: 2,
    name: 'queues',
    statements: [
      `create table reading_shorts (id integer primary key autoincrement,
        reading_id integer not null references readings (id), maker text not null, summary text not null,
        metrics text not null, started text, unique (reading_id, maker))`,
      `create table queue_runs (id integer primary key autoincrement, label text not null,
        run_id integer not null references runs (id), name text not null, began text,
        began_from text check (began_from in ('run', 'file')), added_at text not null, unique (label, run_id))`,
      `create table queue_refusals (id integer primary key autoincrement, label text not null, name text not null,
        bytes integer not null, changed text, reason text not null, added_at text not null,
        unique (label, name, bytes, reason))`,
      `create table queue_alerts (label text primary key, raised_at text not null, sentence text not null)`,
      `create index readings_run on readings (run_id)`,
    ],
  },
  {
    number: 3,
    name: 'working points',
    statements: [
      `create table points (${stamp}, hash text not null, emitter_id integer references emitters (id),
        document text not null, unique (hash, version))`,
      `drop view items`,
      `create view items as
        select 'emitter' as kind, ${itemColumns}, null as on_item from emitters
        union all select 'setup', ${itemColumns}, 'emitter-' || emitter_id from setups
        union all select 'plan', ${itemColumns}, 'setup-' || setup_id from plans
        union all select 'run', ${itemColumns}, null from runs
        union all select 'reading', ${itemColumns}, 'run-' || run_id from readings
        union all select 'point', ${itemColumns}, 'emitter-' || emitter_id from points
        union all select 'note', ${itemColumns}, on_item from notes`,
    ],
  },
  {
    number: 4,
    name: 'places of queued files',
    statements: [
      `create table queue_files (id integer primary key autoincrement, label text not null,
        run_id integer not null references runs (id), place text not null, maker text, changed_ms real,
        name text not null, began text, began_from text check (began_from in ('run', 'file')),
        added_at text not null, unique (label, place))`,
      `insert into queue_files (id, label, run_id, place, name, began, began_from, added_at)
        select id, label, run_id, 'run-' || run_id, name, began, began_from, added_at from queue_runs`,
      `drop table queue_runs`,
      `alter table queue_files rename to queue_runs`,
    ],
  },
  {
    number: 5,
    name: 'rules of queues',
    statements: [
      `create table if not exists queue_rules (label text primary key, baseline_files integer not null)`,
    ],
  },
];

/** Brings the store up to the end of the list, all or nothing. */
export async function migrate(
  db: Kysely<Tables>,
  file: string,
  list: readonly Migration[] = migrations,
): Promise<void> {
  await db.transaction().execute(async (transaction) => {
    await sql`create table if not exists migrations (number integer primary key, name text not null)`.execute(
      transaction,
    );
    const seen = await transaction.selectFrom('migrations').selectAll().orderBy('number').execute();
    const stranger = seen.find((row, i) => row.number !== list[i]?.number || row.name !== list[i]?.name);
    if (stranger) {
      throw inputError(
        'invalid',
        'bench store',
        `${file}, corrupted migrations: number ${stranger.number} '${stranger.name}' is not this program's`,
        `${list.length} migrations at most, as this version knows them; use the version that wrote this store`,
      );
    }
    for (const migration of list.slice(seen.length)) {
      for (const statement of migration.statements) await sql.raw(statement).execute(transaction);
      await transaction
        .insertInto('migrations')
        .values({ number: migration.number, name: migration.name })
        .execute();
    }
  });
}
