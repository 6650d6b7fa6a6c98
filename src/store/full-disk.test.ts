/** A store that runs out of room, on both drivers: a limit on the pages of the file stands for the full disk. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Kysely, SqliteDialect, sql } from 'kysely';
import { afterAll, describe, expect, it } from 'vitest';
import { InputError } from '../core/errors.ts';
import { driverNames, openFile } from './driver.ts';
import { storeFault } from './fault.ts';

const folder = mkdtempSync(join(tmpdir(), 'steadycone-full-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(driverNames)('a full disk through %s', (driver) => {
  it('keeps its own fault through the rollback, keeps what was stored, and becomes one line', async () => {
    const file = join(folder, `${driver}.sqlite`);
    const { database } = await openFile(file, driver);
    const db = new Kysely<Record<string, never>>({ dialect: new SqliteDialect({ database }) });
    try {
      await sql`create table kept (text text)`.execute(db);
      await sql`insert into kept values ('before')`.execute(db);
      await sql`pragma max_page_count = 4`.execute(db);
      const fault = await db
        .transaction()
        .execute((transaction) => sql`insert into kept values (${'x'.repeat(200_000)})`.execute(transaction))
        .catch((error: unknown) => error);
      expect(String(fault)).toMatch(/full/);
      const line = storeFault(fault, folder, file);
      expect(line).toBeInstanceOf(InputError);
      expect((line as InputError).message).toBe(
        `invalid bench store: ${file}, database or disk is full; expected a disk with room that you may write to`,
      );
      const { rows } = await sql<{ text: string }>`select text from kept`.execute(db);
      expect(rows).toEqual([{ text: 'before' }]);
    } finally {
      await db.destroy();
    }
  });
});

it('leaves a fault of ours as it is', () => {
  const fault = new TypeError('a slip');
  expect(storeFault(fault, folder, 'bench.sqlite')).toBe(fault);
});
