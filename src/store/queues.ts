/**
 * Queues: which runs were read together under one label, what each reading says in short, and the one alert of a label.
 * A label is a person's name for one stretch of work, one emitter say. The short form of a reading is kept per maker of
 * readings (`maker` names the code that made it), so that a cached one is never older than the program.
 */
import { type Kysely, sql } from 'kysely';
import { itemId, itemKey } from './ids.ts';
import type { Tables } from './tables.ts';
import { oneLine } from './titles.ts';

export interface QueueLabel {
  label: string;
  runs: number;
  /** When the last run was added, ISO 8601. */
  last: string;
  invented: boolean;
}

export interface QueuedRun {
  run_id: string;
  name: string;
  sha256: string;
  bytes: number;
  began: string | null;
  began_from: 'run' | 'file' | null;
  /** Fingerprint of where the file lies: one place holds one file of a label. */
  place: string;
  /** Names the code, set-up and mask by which this queue judges it; null where an older version kept it. */
  maker: string | null;
  /** The file's own time [ms since 1970]; null where it is not known. */
  changed_ms: number | null;
}

/** What is kept of a file as a member of a queue, beside its run. */
export interface QueueFacts extends Omit<QueuedRun, 'run_id' | 'sha256' | 'bytes'> {
  /** Places that hold a file now: the same content at any other place is this file, moved. Default: only its own. */
  standing?: ReadonlySet<string> | undefined;
}

/** A file of a queue that could not be read. */
export interface QueueRefusal {
  name: string;
  bytes: number;
  /** Of the file, ISO 8601; null where it could not be had. */
  changed: string | null;
  reason: string;
}

/** The short form of a reading; documents are the caller's own. */
export interface ReadingShort {
  run_id: string;
  reading_id: string;
  summary: unknown;
  metrics: unknown;
  /** What the run file itself says of its start; null where it does not. */
  started: string | null;
}

export interface QueueAlert {
  label: string;
  raised_at: string;
  sentence: string;
}

export interface QueueReader {
  /** Newest first. */
  queueLabels(): Promise<QueueLabel[]>;
  /** In the order they were added. */
  queuedRuns(label: string): Promise<QueuedRun[]>;
  /** Files of the label that could not be read and were not read since under the same name; the last reason of each. */
  queueRefusals(label: string): Promise<QueueRefusal[]>;
  /** The newest short form for these bytes by this maker. */
  shortOf(sha256: string, maker: string): Promise<ReadingShort | undefined>;
  /** The newest short form for these bytes by any maker. */
  lastShortOf(sha256: string): Promise<ReadingShort | undefined>;
  /** Sizes of the runs that are kept [bytes]: a file of another size was not read before. */
  runSizes(): Promise<Set<number>>;
  queueAlert(label: string): Promise<QueueAlert | undefined>;
  /** Files that set the usual values of the label's early warning, as last asked for. */
  queueBaseline(label: string): Promise<number | undefined>;
}

export interface QueueWriter {
  addShort(
    reading_id: string,
    short: { maker: string; summary: unknown; metrics: unknown; started: string | null },
  ): Promise<void>;
  /** What stood at the same place is replaced: a file that was read again, or has changed. */
  addToQueue(label: string, run_id: string, facts: QueueFacts, when: string): Promise<void>;
  addRefusal(label: string, refusal: QueueRefusal, when: string): Promise<void>;
  /** False when the label had its alert already. */
  addAlert(alert: QueueAlert): Promise<boolean>;
  setQueueBaseline(label: string, baseline_files: number): Promise<void>;
}

export const LABEL_LENGTH = 80;

/** A label as it is kept: one line. */
export function queueLabel(text: string): string {
  return oneLine(text, LABEL_LENGTH);
}

export function queueReaderOn(db: Kysely<Tables>): QueueReader {
  const short = async (sha256: string, maker?: string): Promise<ReadingShort | undefined> => {
    let query = db
      .selectFrom('reading_shorts')
      .innerJoin('readings', 'readings.id', 'reading_shorts.reading_id')
      .innerJoin('runs', 'runs.id', 'readings.run_id')
      .select([
        'runs.id as run',
        'readings.id as reading',
        'reading_shorts.summary as summary',
        'reading_shorts.metrics as metrics',
        'reading_shorts.started as started',
      ])
      .where('runs.sha256', '=', sha256);
    if (maker !== undefined) query = query.where('reading_shorts.maker', '=', maker);
    const row = await query.orderBy('readings.id', 'desc').limit(1).executeTakeFirst();
    if (!row) return undefined;
    return {
      run_id: itemId('run', row.run),
      reading_id: itemId('reading', row.reading),
      summary: JSON.parse(row.summary),
      metrics: JSON.parse(row.metrics),
      started: row.started,
    };
  };
  return {
    async queueLabels() {
      const rows = await db
        .selectFrom('queue_runs')
        .innerJoin('runs', 'runs.id', 'queue_runs.run_id')
        .select(({ fn }) => [
          'queue_runs.label as label',
          fn.count<number>('queue_runs.run_id').distinct().as('runs'),
          fn.max('queue_runs.added_at').as('last'),
          fn.max('runs.invented').as('invented'),
        ])
        .groupBy('queue_runs.label')
        .orderBy('last', 'desc')
        .orderBy('label')
        .execute();
      return rows.map(({ label, runs, last, invented }) => ({
        label,
        runs: Number(runs),
        last,
        invented: Number(invented) === 1,
      }));
    },
    async queuedRuns(label) {
      const rows = await db
        .selectFrom('queue_runs')
        .innerJoin('runs', 'runs.id', 'queue_runs.run_id')
        .select([
          'runs.id as run',
          'runs.sha256 as sha256',
          'queue_runs.name as name',
          'queue_runs.began as began',
          'queue_runs.began_from as began_from',
          'queue_runs.place as place',
          'queue_runs.maker as maker',
          'queue_runs.changed_ms as changed_ms',
          sql<number>`json_extract(runs.document, '$.bytes')`.as('bytes'),
        ])
        .where('queue_runs.label', '=', label)
        .orderBy('queue_runs.id')
        .execute();
      return rows.map((row) => ({
        run_id: itemId('run', row.run),
        name: row.name,
        sha256: row.sha256,
        bytes: Number(row.bytes),
        began: row.began,
        began_from: row.began_from,
        place: row.place,
        maker: row.maker,
        changed_ms: row.changed_ms,
      }));
    },
    async queueRefusals(label) {
      const read = db.selectFrom('queue_runs').select('name').where('label', '=', label);
      const rows = await db
        .selectFrom('queue_refusals')
        .select(['name', 'bytes', 'changed', 'reason'])
        .where('label', '=', label)
        .where('name', 'not in', read)
        .orderBy('id')
        .execute();
      return [...new Map(rows.map((row) => [row.name, row])).values()];
    },
    shortOf: short,
    lastShortOf: (sha256) => short(sha256),
    async runSizes() {
      const rows = await db
        .selectFrom('runs')
        .select(sql<number>`json_extract(document, '$.bytes')`.as('bytes'))
        .execute();
      return new Set(rows.map((row) => Number(row.bytes)));
    },
    async queueAlert(label) {
      return db
        .selectFrom('queue_alerts')
        .select(['label', 'raised_at', 'sentence'])
        .where('label', '=', label)
        .executeTakeFirst();
    },
    async queueBaseline(label) {
      const row = await db
        .selectFrom('queue_rules')
        .select('baseline_files')
        .where('label', '=', label)
        .executeTakeFirst();
      return row?.baseline_files;
    },
  };
}

export function queueWriterOn(db: Kysely<Tables>): QueueWriter {
  return {
    async addShort(reading_id, { maker, summary, metrics, started }) {
      const row = {
        reading_id: itemKey(reading_id).number,
        maker,
        summary: JSON.stringify(summary),
        metrics: JSON.stringify(metrics),
        started,
      };
      await db
        .insertInto('reading_shorts')
        .values(row)
        .onConflict((conflict) => conflict.doNothing())
        .execute();
    },
    async addToQueue(label, run_id, { name, began, began_from, place, maker, changed_ms, standing }, when) {
      const told = {
        run_id: itemKey(run_id).number,
        name: oneLine(name),
        began,
        began_from,
        maker,
        changed_ms,
      };
      const row = { ...told, label: queueLabel(label), place, added_at: when };
      const same = await db
        .selectFrom('queue_runs')
        .select(['id', 'place'])
        .where('label', '=', row.label)
        .where('run_id', '=', row.run_id)
        .execute();
      const moved = same.filter((one) => one.place !== place && !standing?.has(one.place));
      if (moved.length > 0)
        await db
          .deleteFrom('queue_runs')
          .where(
            'id',
            'in',
            moved.map(({ id }) => id),
          )
          .execute();
      // A file that is only judged anew was not added anew.
      const added = sql<string>`case when queue_runs.run_id = excluded.run_id then queue_runs.added_at else excluded.added_at end`;
      await db
        .insertInto('queue_runs')
        .values(row)
        .onConflict((conflict) =>
          conflict.columns(['label', 'place']).doUpdateSet({ ...told, added_at: added }),
        )
        .execute();
    },
    async addRefusal(label, { name, bytes, changed, reason }, when) {
      const row = { label: queueLabel(label), name: oneLine(name), bytes, changed, reason, added_at: when };
      await db
        .insertInto('queue_refusals')
        .values(row)
        .onConflict((conflict) => conflict.doNothing())
        .execute();
    },
    async addAlert({ label, raised_at, sentence }) {
      const row = await db
        .insertInto('queue_alerts')
        .values({ label: queueLabel(label), raised_at, sentence })
        .onConflict((conflict) => conflict.doNothing())
        .returning('label')
        .executeTakeFirst();
      return row !== undefined;
    },
    async setQueueBaseline(label, baseline_files) {
      await db
        .insertInto('queue_rules')
        .values({ label: queueLabel(label), baseline_files })
        .onConflict((conflict) => conflict.column('label').doUpdateSet({ baseline_files }))
        .execute();
    },
  };
}
