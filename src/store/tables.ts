/** The tables as the migrations leave them. Documents are JSON text and stand last, so that listing never reads them. */
import type { Generated } from 'kysely';

interface Stamped {
  id: Generated<number>;
  title: string;
  /** ISO 8601, UTC. */
  stored_at: string;
  who: string;
  version: string;
  /** 0 or 1. */
  invented: number;
  /** Lower-case words a search looks through. */
  search: string;
  document: string;
}

export interface EmitterRow extends Stamped {
  hash: string;
}
export interface SetupRow extends Stamped {
  hash: string;
  emitter_id: number;
}
export interface PlanRow extends Stamped {
  hash: string;
  setup_id: number;
}
export interface RunRow extends Stamped {
  sha256: string;
}
export interface ReadingRow extends Stamped {
  hash: string;
  run_id: number;
}
/** Working point of an emitter; `emitter_id` only where its geometry is on the bench. */
export interface PointRow extends Stamped {
  hash: string;
  emitter_id: number | null;
}
export interface NoteRow extends Stamped {
  /** Id of its subject as people write it, `run-3`. */
  on_item: string;
}

/** View over all tables, without the documents. */
export interface ItemRow {
  kind: string;
  number: number;
  title: string;
  stored_at: string;
  who: string;
  version: string;
  invented: number;
  search: string;
  on_item: string | null;
}

export interface ReadingShortRow {
  id: Generated<number>;
  reading_id: number;
  /** Names the code that made it. */
  maker: string;
  summary: string;
  metrics: string;
  started: string | null;
}

export interface QueueRunRow {
  id: Generated<number>;
  label: string;
  run_id: number;
  /** Fingerprint of where the file lies; of files kept by an older version the id of the run. */
  place: string;
  /** Names the code, set-up and mask that judged it; null of files kept by an older version. */
  maker: string | null;
  /** The file's own time [ms since 1970]. */
  changed_ms: number | null;
  name: string;
  began: string | null;
  began_from: 'run' | 'file' | null;
  added_at: string;
}

/** A file of a queue that could not be read. */
export interface QueueRefusalRow {
  id: Generated<number>;
  label: string;
  name: string;
  bytes: number;
  /** Of the file, ISO 8601. */
  changed: string | null;
  reason: string;
  added_at: string;
}

export interface QueueAlertRow {
  label: string;
  raised_at: string;
  sentence: string;
}

export interface QueueRuleRow {
  label: string;
  /** Files that set the usual values. */
  baseline_files: number;
}

export interface MigrationRow {
  number: number;
  name: string;
}

export interface Tables {
  emitters: EmitterRow;
  setups: SetupRow;
  plans: PlanRow;
  runs: RunRow;
  readings: ReadingRow;
  points: PointRow;
  notes: NoteRow;
  items: ItemRow;
  migrations: MigrationRow;
  reading_shorts: ReadingShortRow;
  queue_runs: QueueRunRow;
  queue_refusals: QueueRefusalRow;
  queue_alerts: QueueAlertRow;
  queue_rules: QueueRuleRow;
}

export const tableOf = {
  emitter: 'emitters',
  setup: 'setups',
  plan: 'plans',
  run: 'runs',
  reading: 'readings',
  point: 'points',
  note: 'notes',
} as const;
