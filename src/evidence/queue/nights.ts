/** A queue as nights, noon to noon, each with its runs and kept minutes as spans of the clock. */

import { keptText } from './queue-sentences.ts';
import type { QueueReport } from './report-types.ts';
import { isBad } from './run-summary.ts';

export interface Night {
  /** Local date of the noon it begins with, as 2031-02-03. */
  date: string;
  /** 'Night of 3 to 4 February 2031' */
  name: string;
  runs: NightRun[];
  kept_s: number;
  measured_s: number;
}

export interface NightRun {
  /** Index into the report's files. */
  file: number;
  name: string;
  /** Hours after noon, 0 to 24; a run that goes on past noon ends there and is not drawn twice. */
  from_h: number;
  to_h: number;
  kept_h: { from_h: number; to_h: number }[];
  bad: boolean;
  words: string;
  reading_id: string | null;
}

/** `offset_min`: minutes that local time is ahead of UTC at a moment. Files without a time stand in no night. */
export function nightsOf(report: QueueReport, offset_min: (moment_ms: number) => number): Night[] {
  const nights = new Map<string, Night>();
  report.files.forEach((file, index) => {
    const run = file.summary;
    if (run === null || file.began === null || file.same_as !== null) return;
    const began = Date.parse(file.began);
    if (Number.isNaN(began)) return;
    const local = began + offset_min(began) * 60_000;
    const noon = Math.floor((local - HALF_DAY) / DAY) * DAY + HALF_DAY;
    const date = new Date(noon).toISOString().slice(0, 10);
    let night = nights.get(date);
    if (!night) {
      night = { date, name: nightName(noon), runs: [], kept_s: 0, measured_s: 0 };
      nights.set(date, night);
    }
    const start_h = (local - noon) / HOUR;
    const at = (time_s: number) => Math.min(24, start_h + (time_s - run.start_s) / 3600);
    night.runs.push({
      file: index,
      name: file.name,
      from_h: start_h,
      to_h: at(run.end_s),
      kept_h: run.kept.map((piece) => ({ from_h: at(piece.start_s), to_h: at(piece.end_s) })),
      bad: isBad(run),
      words: keptText(file),
      reading_id: file.reading_id,
    });
    if (run.grade === 'cannot tell') return;
    night.kept_s += run.kept.reduce((sum, piece) => sum + piece.end_s - piece.start_s, 0);
    night.measured_s += run.end_s - run.start_s;
  });
  return [...nights.values()].sort((a, b) => (a.date < b.date ? -1 : 1));
}

/** Hours after noon that hold every run of every night, so that strips of one width can be compared. */
export function hoursOf(nights: readonly Night[]): { from_h: number; to_h: number } {
  const runs = nights.flatMap((night) => night.runs);
  if (runs.length === 0) return { from_h: 0, to_h: 24 };
  const first = Math.floor(Math.min(...runs.map((run) => run.from_h)));
  const last = Math.ceil(Math.max(...runs.map((run) => run.to_h)));
  const to_h = Math.min(24, Math.max(last, first + LEAST_HOURS));
  return { from_h: Math.max(0, Math.min(first, to_h - LEAST_HOURS)), to_h };
}

/** A strip of less would make one short run look like a night. */
const LEAST_HOURS = 4;

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const HALF_DAY = 12 * HOUR;
const months = [
  'January', 'February', 'March', 'April', 'May', 'June',
  'July', 'August', 'September', 'October', 'November', 'December',
]; // biome-ignore format: half a year a line

/** Moments here are local time written as if it were UTC. */
function nightName(noon: number): string {
  const first = new Date(noon);
  const second = new Date(noon + DAY);
  const month = (date: Date) => months[date.getUTCMonth()]!;
  const head = month(first) === month(second) ? '' : ` ${month(first)}`;
  return `Night of ${first.getUTCDate()}${head} to ${second.getUTCDate()} ${month(second)} ${second.getUTCFullYear()}`;
}
