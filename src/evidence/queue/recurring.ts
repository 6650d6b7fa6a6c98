/**
 * Events that come back at the same run time in many files belong to the method: chromatography, a valve, or a spray that
 * leaves its window at that composition. Events that do not are the spray's own, or the room's.
 * Test: the most files with an event within one window of run time, against the same count after each file's events were
 * shifted by a random time around its run (seeded): shifting keeps how many events a file has and how they cluster.
 * Only told where at least SHIFTS shifts never reach the count. Breaks when runs are of unlike length or method.
 */
import { median } from '../../core/numeric/robust.ts';
import { randomStream } from '../../core/random.ts';
import type { RunEventKind } from '../run-reading.ts';
import type { RunSummary } from './run-summary.ts';

export interface RecurringTime {
  /** Middle of the window [s of run time]. */
  time_s: number;
  /** Files with an event there, as indices. */
  files: number[];
  /** Share of random shifts that reach as many files anywhere, with one added (never 0). */
  p: number;
}

/** An event at a time of its own. */
export interface OwnEvent {
  /** As an index. */
  file: number;
  /** Middle of the event [s of run time]. */
  time_s: number;
  kind: RunEventKind;
}

export interface RecurringEvents {
  /** Width of the window [s]. */
  window_s: number;
  recurring: RecurringTime[];
  recurring_events: number;
  /** Events at times of their own. */
  random_events: number;
  own: OwnEvent[];
  files: number;
  sentence: string;
}

/** Half of the window: chromatography comes back within some seconds, and a scan interval or three. Judgement. */
const TOLERANCE_S = 10;
const TOLERANCE_INTERVALS = 3;
const SHIFTS = 199;
const TOLD = 0.01;
const LEAST_FILES = 3;
const LEAST_SHARE = 1 / 3;
const MOST_TIMES = 8;
/** Kinds with a moment of their own; a ripple or a drift is a stretch, whose middle says little. */
const TIMED: ReadonlySet<string> = new Set(['dropout', 'sag', 'step', 'burst']);
/** Events less believed than this are left out. */
const BELIEVED = 0.3;

interface Mark {
  file: number;
  at: number;
  kind: RunEventKind;
}

export function recurringEvents(runs: readonly (RunSummary | null)[], seed = 1): RecurringEvents {
  const files = runs.flatMap((run, i) => (run && run.end_s > run.start_s ? [i] : []));
  let marks: Mark[] = [];
  let interval = 0;
  for (const i of files) {
    const run = runs[i]!;
    interval = Math.max(interval, run.interval_s);
    for (const event of run.events) {
      if (event.confidence < BELIEVED || !TIMED.has(event.kind)) continue;
      marks.push({ file: i, at: (event.start_s + event.end_s) / 2, kind: event.kind });
    }
  }
  const window_s = 2 * Math.max(TOLERANCE_S, TOLERANCE_INTERVALS * interval);
  const total = marks.length;
  const recurring: RecurringTime[] = [];
  if (files.length >= LEAST_FILES && total > 0) {
    const chance = byChance(marks, runs, window_s, seed);
    while (recurring.length < MOST_TIMES) {
      const most = fullestWindow(marks, window_s);
      if (most.files.length < Math.max(LEAST_FILES, LEAST_SHARE * files.length)) break;
      const p = (1 + chance.filter((count) => count >= most.files.length).length) / (1 + chance.length);
      if (p > TOLD) break;
      recurring.push({ time_s: most.middle, files: most.files, p });
      const held = new Set(most.held);
      marks = marks.filter((mark) => !held.has(mark));
    }
  }
  recurring.sort((a, b) => a.time_s - b.time_s);
  const random_events = marks.length;
  return {
    window_s,
    recurring,
    recurring_events: total - random_events,
    random_events,
    own: marks.map(({ file, at, kind }) => ({ file, time_s: at, kind })),
    files: files.length,
    sentence: sentenceOf(recurring, total, random_events, files.length),
  };
}

function byChance(
  marks: readonly Mark[],
  runs: readonly (RunSummary | null)[],
  window_s: number,
  seed: number,
): number[] {
  const draw = randomStream(seed, 'recurring events');
  const counts: number[] = [];
  const keys = new Float64Array(marks.length);
  for (let k = 0; k < SHIFTS; k++) {
    const shift = runs.map((run) => (run ? draw.unit() * (run.end_s - run.start_s) : 0));
    for (let m = 0; m < marks.length; m++) {
      const { file, at } = marks[m]!;
      const { start_s, end_s } = runs[file]!;
      const length = end_s - start_s;
      keys[m] = packed(file, start_s + ((((at - start_s + shift[file]!) % length) + length) % length));
    }
    counts.push(fullestOf(keys.sort(), window_s, runs.length).files);
  }
  return counts;
}

/** Time in milliseconds and file in one number, so that a plain sort of numbers puts marks in order of time. */
const FILES_MOST = 65_536;

function packed(file: number, at: number): number {
  return Math.round(at * 1000) * FILES_MOST + file;
}

/** The window that holds events of the most files. */
function fullestWindow(
  marks: readonly Mark[],
  window_s: number,
): { middle: number; files: number[]; held: Mark[] } {
  const sorted = [...marks].sort((a, b) => packed(a.file, a.at) - packed(b.file, b.at));
  const most = 1 + Math.max(-1, ...sorted.map((mark) => mark.file));
  const { first, past } = fullestOf(
    Float64Array.from(sorted, (mark) => packed(mark.file, mark.at)),
    window_s,
    most,
  );
  const held = sorted.slice(first, past);
  const files = [...new Set(held.map((mark) => mark.file))].sort((a, b) => a - b);
  return { middle: held.length === 0 ? 0 : median(held.map((mark) => mark.at)), files, held };
}

function fullestOf(
  keys: Float64Array,
  window_s: number,
  count: number,
): { first: number; past: number; files: number } {
  const inside = new Uint32Array(count);
  const window = window_s * 1000;
  let best = { first: 0, past: 0, files: 0 };
  let files = 0;
  let first = 0;
  for (let past = 0; past < keys.length; past++) {
    const time = Math.floor(keys[past]! / FILES_MOST);
    const file = keys[past]! - time * FILES_MOST;
    const events = inside[file]!;
    inside[file] = events + 1;
    if (events === 0) files++;
    for (let early = Math.floor(keys[first]! / FILES_MOST); time - early > window; ) {
      const left = keys[first++]! - early * FILES_MOST;
      const others = inside[left]! - 1;
      inside[left] = others;
      if (others === 0) files--;
      early = Math.floor(keys[first]! / FILES_MOST);
    }
    if (files > best.files) best = { first, past: past + 1, files };
  }
  return best;
}

function sentenceOf(
  recurring: readonly RecurringTime[],
  total: number,
  random: number,
  files: number,
): string {
  if (total === 0) return 'No dropout or sag in any file.';
  if (files < LEAST_FILES) return `${files} files are too few to tell what comes back at the same run time.`;
  const rest =
    random === 0
      ? 'No event stands at a time of its own.'
      : `${random === 1 ? '1 event stands at a time of its own' : `${random} events stand at times of their own`}, as faults of the spray or the room do.`;
  if (recurring.length === 0) return `Nothing comes back at the same run time. ${rest}`;
  const times = recurring.map(
    (time) => `${(time.time_s / 60).toFixed(1)} min (${time.files.length} of ${files} files)`,
  );
  return `At ${times.join(', ')} an event comes back at the same run time: that belongs to the method (chromatography, a valve, or a spray that leaves its window at that composition), not to chance. ${rest}`;
}
