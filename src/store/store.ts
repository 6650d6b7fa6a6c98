/**
 * The bench store: one SQLite file in the bench folder. Checked and migrated when opened; a commit is on the disk when
 * its promise resolves, so a killed process or a power cut loses nothing that was acknowledged.
 */
import { Kysely, SqliteDialect, sql } from 'kysely';
import { type DriverName, openFile } from './driver.ts';
import { damaged, storeFault } from './fault.ts';
import { writableStoreFile } from './folder.ts';
import { migrate } from './migrations.ts';
import { type Reader, readerOn } from './reader.ts';
import type { Tables } from './tables.ts';
import { type Writer, writerOn } from './writer.ts';

export interface StoreOptions {
  /** Default: better-sqlite3 where it loads, else libsql. */
  driver?: DriverName | undefined;
}

export interface Store extends Reader, Writer {
  readonly driver: DriverName;
  readonly folder: string;
  readonly file: string;
  /** Everything `work` adds is kept together or not at all. */
  atomically<T>(work: (writer: Writer) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

export async function openStore(folder: string, options: StoreOptions = {}): Promise<Store> {
  const file = await writableStoreFile(folder);
  let db: Kysely<Tables> | undefined;
  try {
    const opened = await openFile(file, options.driver);
    db = new Kysely<Tables>({ dialect: new SqliteDialect({ database: opened.database }) });
    await prepareFile(db, file);
    return storeOn(db, opened.driver, folder, file);
  } catch (error) {
    await db?.destroy();
    throw storeFault(error, folder, file);
  }
}

type Guard = <T>(work: () => Promise<T>) => Promise<T>;

function guardOf(folder: string, file: string): Guard {
  return async (work) => {
    try {
      return await work();
    } catch (error) {
      throw storeFault(error, folder, file);
    }
  };
}

function storeOn(db: Kysely<Tables>, driver: DriverName, folder: string, file: string): Store {
  const guarded = guardOf(folder, file);
  const atomically: Store['atomically'] = (work) =>
    guarded(() => db.transaction().execute((transaction) => work(writerOn(transaction))));
  let closing: Promise<void> | undefined;
  return {
    driver,
    folder,
    file,
    ...readerOn(db),
    addSetup: (setup, stamp) => atomically((writer) => writer.addSetup(setup, stamp)),
    addPlan: (setup_id, plan, stamp) => atomically((writer) => writer.addPlan(setup_id, plan, stamp)),
    addRun: (run, stamp) => atomically((writer) => writer.addRun(run, stamp)),
    addReading: (run_id, reading, stamp) => atomically((writer) => writer.addReading(run_id, reading, stamp)),
    addPoint: (emitter_id, point, stamp) => atomically((writer) => writer.addPoint(emitter_id, point, stamp)),
    note: (request, stamp) => atomically((writer) => writer.note(request, stamp)),
    addShort: (reading_id, short) => atomically((writer) => writer.addShort(reading_id, short)),
    addToQueue: (label, run_id, facts, when) =>
      atomically((writer) => writer.addToQueue(label, run_id, facts, when)),
    addRefusal: (label, refusal, when) => atomically((writer) => writer.addRefusal(label, refusal, when)),
    addAlert: (alert) => atomically((writer) => writer.addAlert(alert)),
    setQueueBaseline: (label, files) => atomically((writer) => writer.setQueueBaseline(label, files)),
    atomically,
    close: () => {
      closing ??= guarded(() => closed(db));
      return closing;
    },
  };
}

/** The log goes back into the one file, so that a copy of it is a copy of the bench; libsql does not do this by itself. */
async function closed(db: Kysely<Tables>): Promise<void> {
  try {
    await sql`pragma wal_checkpoint(truncate)`.execute(db);
  } finally {
    await db.destroy();
  }
}

async function prepareFile(db: Kysely<Tables>, file: string): Promise<void> {
  await checkIntegrity(db, file);
  // A reader and a writer in two processes do not block each other. Where the file system cannot share memory SQLite
  // stays with its rollback journal, which is as safe.
  await sql`pragma journal_mode = wal`.execute(db);
  // FULL: each commit waits for the disk. A bench gets a few rows an hour; milliseconds are worth a power cut.
  await sql`pragma synchronous = full`.execute(db);
  await sql`pragma foreign_keys = on`.execute(db);
  await migrate(db, file);
}

async function checkIntegrity(db: Kysely<Tables>, file: string): Promise<void> {
  const { rows } = await sql<{ integrity_check: string }>`pragma integrity_check(1)`.execute(db);
  const answer = rows[0]?.integrity_check ?? 'no answer';
  if (answer !== 'ok') throw damaged(file, answer);
  const strays = await sql`pragma foreign_key_check`.execute(db);
  if (strays.rows.length > 0)
    throw damaged(file, `${strays.rows.length} rows point to rows that are not there`);
}
