/** The report of a queue: JSON-ready, null where a value is absent. */
import type { WarningChart } from './early-warning.ts';
import type { QueueFile, QueueOrder } from './queue-file.ts';
import type { RecurringEvents } from './recurring.ts';
import type { Trend } from './trend.ts';

export interface QueueReport {
  label: string;
  invented: boolean;
  order_by: QueueOrder;
  files: QueueFile[];
  counts: { keep: number; keep_these_minutes: number; repeat: number; cannot_tell: number; not_read: number };
  /** Over the files that can be judged. */
  kept_s: number;
  measured_s: number;
  /** Index of the first bad file; null where there is none. */
  first_bad: number | null;
  /** Index from which on most files are bad; null where the end of the queue is sound. */
  bad_from: number | null;
  trends: Trend[];
  warning: EarlyWarning;
  recurring: RecurringEvents;
  /** What to say of the queue, most important first. */
  sentences: string[];
  cautions: string[];
}

export interface EarlyWarning {
  rule: string;
  baseline_files: number;
  charts: WarningChart[];
  /** First file that alarms, by a chart or as the second bad file in a row; null where none does. */
  alarm: { file: number; reason: string } | null;
  sentence: string;
}
