/** Listing, showing and exporting the bench. */
import { type Kysely, sql } from 'kysely';
import { type BenchEntry, type BenchItem, type BenchKind, benchKinds } from '../contract/index.ts';
import { itemId, itemKey, unknownItem } from './ids.ts';
import { type QueuedRun, type QueueReader, queueReaderOn } from './queues.ts';
import { type ItemRow, type Tables, tableOf } from './tables.ts';

export interface ListFilter {
  kind?: BenchKind | undefined;
  /** Words that must all occur in title, names or liquid, in any case. */
  query?: string | undefined;
}

export interface ExportedItem {
  item: BenchItem;
  document: unknown;
}

export interface BenchExport {
  format: 'steadycone bench';
  format_version: 1;
  items: ExportedItem[];
  /** Which runs were read together. */
  queues: { label: string; runs: QueuedRun[] }[];
}

export interface Reader extends QueueReader {
  /** Newest first. */
  list(filter?: ListFilter): Promise<BenchItem[]>;
  /** Throws an InputError (`unknown bench item`) for an id that is not there. */
  show(id: string): Promise<BenchEntry>;
  exportAll(): Promise<BenchExport>;
  /** The same document as text in pieces, one entry in memory at a time. */
  exportPieces(): AsyncGenerator<string, void, undefined>;
}

/** Words of a query beyond this many are not looked for. */
const QUERY_WORDS = 12;

export function readerOn(db: Kysely<Tables>): Reader {
  const reader: Reader = {
    ...queueReaderOn(db),

    async list(filter = {}) {
      let query = db.selectFrom('items').selectAll();
      if (filter.kind) query = query.where('kind', '=', filter.kind);
      const words = (filter.query ?? '').toLowerCase().split(/\s+/).filter(Boolean).slice(0, QUERY_WORDS);
      for (const word of words)
        query = query.where(sql<boolean>`(instr(search, ${word}) > 0 or kind = ${word})`);
      const rows = await query
        .orderBy('stored_at', 'desc')
        .orderBy('kind')
        .orderBy('number', 'desc')
        .execute();
      return rows.map(itemOf);
    },

    async show(id) {
      const key = itemKey(id);
      const row = await db
        .selectFrom('items')
        .selectAll()
        .where('kind', '=', key.kind)
        .where('number', '=', key.number)
        .executeTakeFirst();
      if (!row) throw unknownItem(id);
      const parent = row.on_item === null ? [] : await itemsWithId(db, row.on_item);
      const children = await db
        .selectFrom('items')
        .selectAll()
        .where('on_item', '=', id)
        .orderBy('stored_at')
        .orderBy('kind')
        .orderBy('number')
        .execute();
      const document: unknown = JSON.parse(await documentText(db, key.kind, key.number));
      return { item: itemOf(row), document, related: [...parent, ...children].map(itemOf) };
    },

    async exportAll() {
      let text = '';
      for await (const piece of reader.exportPieces()) text += piece;
      return JSON.parse(text) as BenchExport;
    },

    async *exportPieces() {
      const rows = await db.selectFrom('items').selectAll().orderBy('stored_at').execute();
      const order = new Map<string, number>(benchKinds.map((kind, i) => [kind, i]));
      rows.sort((a, b) => (order.get(a.kind) ?? 0) - (order.get(b.kind) ?? 0) || a.number - b.number);
      yield '{"format":"steadycone bench","format_version":1,"items":[';
      let separator = '\n';
      for (const row of rows) {
        const item = itemOf(row);
        const document = await documentText(db, item.kind, row.number);
        yield `${separator}{"item":${JSON.stringify(item)},"document":${document}}`;
        separator = ',\n';
      }
      yield '\n],"queues":[';
      separator = '\n';
      for (const { label } of await reader.queueLabels()) {
        yield `${separator}${JSON.stringify({ label, runs: await reader.queuedRuns(label) })}`;
        separator = ',\n';
      }
      yield '\n]}\n';
    },
  };
  return reader;
}

async function itemsWithId(db: Kysely<Tables>, id: string): Promise<ItemRow[]> {
  const key = itemKey(id);
  return db
    .selectFrom('items')
    .selectAll()
    .where('kind', '=', key.kind)
    .where('number', '=', key.number)
    .execute();
}

async function documentText(db: Kysely<Tables>, kind: BenchKind, number: number): Promise<string> {
  const row = await db
    .selectFrom(tableOf[kind])
    .select('document')
    .where('id', '=', number)
    .executeTakeFirstOrThrow();
  return row.document;
}

function itemOf(row: ItemRow): BenchItem {
  const kind = row.kind as BenchKind;
  const item: BenchItem = {
    id: itemId(kind, row.number),
    kind,
    title: row.title,
    when: row.stored_at,
    who: row.who,
    version: row.version,
    invented: row.invented === 1,
  };
  if (row.on_item !== null) item.on = row.on_item;
  return item;
}
