/**
 * Which MS1 scans may be compared with each other: one polarity, one declared scan window, one analyser.
 * A file made from an older format declares the lowest and highest observed m/z as each scan's window; windows are
 * therefore believed only when few of them hold nearly all scans.
 */
import type { RunRecord } from '../formats/run-record.ts';

/** More distinct windows than this are observed ranges, not settings. */
const MOST_WINDOWS = 12;
/** A window with fewer scans is not a setting that was cycled through. */
const LEAST_SCANS = 3;
/** Share of scans the believed windows have to hold. Judgement: leaves room for a few stray scans. */
const BELIEVED_SHARE = 0.95;

export interface ScanGroup {
  label: string;
  polarity: 'positive' | 'negative' | 'unknown';
  /** Rows of the record, rising in time. */
  rows: Int32Array;
}

export interface Grouping {
  groups: ScanGroup[];
  warnings: string[];
}

export function scanGroups(record: RunRecord): Grouping {
  const warnings: string[] = [];
  const rows = timedRows(record, warnings);
  const coarse = parted(rows, (row) => `${record.polarity[row]}|${record.analyser[row]}`);
  const severalAnalysers = new Set(rows.map((row) => record.analyser[row]!)).size > 1;
  const groups: ScanGroup[] = [];
  let disbelieved = 0;
  for (const members of coarse) {
    const fine = parted(
      members,
      (row) => `${rounded(record.window_low[row]!)}|${rounded(record.window_high[row]!)}`,
    );
    const believable = fine.filter((part) => part.length >= LEAST_SCANS);
    const held = believable.reduce((sum, part) => sum + part.length, 0);
    const believed = fine.length <= MOST_WINDOWS && held >= BELIEVED_SHARE * members.length;
    if (!believed && fine.length > 1) disbelieved += fine.length;
    for (const part of believed ? fine : [members]) {
      groups.push(group(record, part, believed || fine.length === 1, severalAnalysers));
    }
  }
  if (disbelieved > 0) {
    warnings.push(
      `${disbelieved} different scan windows are declared: taken for observed ranges, so windows do not part the scans`,
    );
  }
  return { groups, warnings };
}

/** Rows with a time, sorted by it. */
function timedRows(record: RunRecord, warnings: string[]): number[] {
  const rows: number[] = [];
  let backward = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < record.ms1_count; row++) {
    const time = record.time_s[row]!;
    if (!Number.isFinite(time)) continue;
    if (time < last) backward++;
    last = time;
    rows.push(row);
  }
  const untimed = record.ms1_count - rows.length;
  if (untimed > 0) warnings.push(`${untimed} MS1 scans have no start time and are left out`);
  if (backward > 0) {
    warnings.push(`scan times step back ${backward} times: the scans were sorted by time`);
    rows.sort((a, b) => record.time_s[a]! - record.time_s[b]! || a - b);
  }
  return rows;
}

function parted(rows: readonly number[], key: (row: number) => string): number[][] {
  const parts = new Map<string, number[]>();
  for (const row of rows) {
    const name = key(row);
    const part = parts.get(name);
    if (part) part.push(row);
    else parts.set(name, [row]);
  }
  return [...parts.values()];
}

/** Windows count as one when they agree to a hundredth. */
function rounded(mz: number): string {
  return Number.isFinite(mz) ? `${Math.round(mz * 100)}` : '';
}

function group(
  record: RunRecord,
  rows: readonly number[],
  windowed: boolean,
  severalAnalysers: boolean,
): ScanGroup {
  const first = rows[0]!;
  const sign = record.polarity[first]!;
  const polarity = sign > 0 ? 'positive' : sign < 0 ? 'negative' : 'unknown';
  const parts = [polarity === 'unknown' ? 'polarity unknown' : polarity];
  const low = record.window_low[first]!;
  const high = record.window_high[first]!;
  if (windowed && Number.isFinite(low) && Number.isFinite(high)) {
    parts.push(`m/z ${plainMz(low)}–${plainMz(high)}`);
  }
  if (severalAnalysers) parts.push(`analyser ${record.analyser[first]! + 1}`);
  return { label: parts.join(', '), polarity, rows: Int32Array.from(rows) };
}

function plainMz(mz: number): string {
  return `${Math.round(mz * 10) / 10}`;
}
