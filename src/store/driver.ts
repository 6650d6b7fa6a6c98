/**
 * The two SQLite drivers behind one door. better-sqlite3 is compiled on installing and may be absent; libsql comes as a
 * binary. Both speak the same dialect and file format, so a store may change driver between two starts.
 */
import type { SqliteDatabase, SqliteStatement } from 'kysely';
import { inputError } from '../core/errors.ts';

export const driverNames = ['better-sqlite3', 'libsql'] as const;
export type DriverName = (typeof driverNames)[number];

export interface OpenedFile {
  driver: DriverName;
  database: SqliteDatabase;
}

/** How long a statement waits for another process's write before it gives up. Writes here take milliseconds. */
const BUSY_TIMEOUT_MS = 10_000;

/** Opens `file` with the wanted driver, else with the first that loads. */
export async function openFile(file: string, wanted?: DriverName): Promise<OpenedFile> {
  const reasons: string[] = [];
  for (const driver of wanted ? [wanted] : driverNames) {
    let open: Opener;
    try {
      open = await openers[driver]();
    } catch (error) {
      reasons.push(`${driver} (${firstLine(error)})`);
      continue;
    }
    return { driver, database: adapted(open(file)) };
  }
  throw inputError(
    'missing',
    'SQLite driver',
    `${reasons.join(', ')} did not load`,
    'better-sqlite3 or libsql installed for this system; run npm install again',
  );
}

interface RawDatabase {
  prepare(sql: string): unknown;
  close(): unknown;
}
type Opener = (file: string) => RawDatabase;

/** Each opens a store in memory first: the native part loads only then, and its failure must not look like a bad file. */
const openers: Record<DriverName, () => Promise<Opener>> = {
  'better-sqlite3': async () => {
    const { default: Database } = await import('better-sqlite3');
    new Database(':memory:').close();
    return (file) => new Database(file, { timeout: BUSY_TIMEOUT_MS });
  },
  libsql: async () => {
    const { default: Database } = await import('libsql');
    new Database(':memory:').close();
    return (file) => {
      const database = new Database(file);
      (database.prepare(`pragma busy_timeout = ${BUSY_TIMEOUT_MS}`) as SqliteStatement).all([]);
      return database;
    };
  },
};

const NOTHING_DONE = { changes: 0, lastInsertRowid: 0 };

/**
 * What Kysely needs of a database. Every transaction here writes, so it takes the write lock at its beginning: a lock
 * taken later, after reading, fails at once when another process has written in between.
 */
function adapted(database: RawDatabase): SqliteDatabase {
  return {
    prepare: (sql) => {
      const statement = database.prepare(sql === 'begin' ? 'begin immediate' : sql) as SqliteStatement;
      return {
        reader: statement.reader,
        all: (parameters) => statement.all(parameters),
        run: (parameters) => {
          try {
            return statement.run(parameters);
          } catch (error) {
            // A full disk makes SQLite roll back by itself; a second rollback must not hide the fault behind it.
            if (sql === 'rollback' && /no transaction is active/.test(firstLine(error))) return NOTHING_DONE;
            throw error;
          }
        },
        iterate: (parameters) => statement.iterate(parameters),
      };
    },
    close: () => {
      database.close();
    },
  };
}

function firstLine(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).split('\n')[0] ?? '';
}
