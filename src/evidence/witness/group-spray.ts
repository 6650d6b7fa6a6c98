/**
 * Joins what was seen of the peaks to one group of scans: finds its stream, reads the spray from it and lets the spray
 * answer for the falls that the level alone showed.
 */
import { median } from '../../core/numeric/robust.ts';
import type { FoundEvents } from '../run-events.ts';
import type { LevelSeries } from '../run-level.ts';
import type { RunEvent } from '../run-reading.ts';
import { unwitnessed } from '../unwitnessed.ts';
import { causeWords } from './cause-words.ts';
import { sprayPerFill } from './per-fill.ts';
import type { Witnesses, WitnessStream } from './run-witnesses.ts';
import { boxSize } from './spray-falls.ts';
import { type SprayFound, sprayReading } from './spray-reading.ts';
import { type SpraySeries, spraySeries } from './spray-series.ts';

/** A group is followed when its stream holds at least this share of its scans, and so many. */
const HELD_SHARE = 0.7;
const LEAST_SCANS = 20;
/** Share of the level's fall (in logs) the background has to show to agree, and below which it denies. Judgement. */
const AGREES = 0.4;
const DENIES = 0.25;
const AGREED = 0.15;
const DENIED = 0.3;

export interface GroupSpray extends SprayFound {
  /** All events of the group: those of the level, answered for, and those of the peaks. */
  events: RunEvent[];
}

/** `places` of the rows of the record among the group's, `stream` the one that holds its scans. */
export function groupSpray(
  stream: WitnessStream,
  places: Int32Array,
  series: LevelSeries,
  log: Float64Array,
  found: FoundEvents,
  context: { group: number; polarity: 'positive' | 'negative' | 'unknown'; per_fill: boolean },
): GroupSpray | null {
  const n = stream.rows.length;
  const at = Int32Array.from(stream.rows, (row) => places[row] ?? -1);
  const time_s = new Float64Array(n);
  const level_log = new Float64Array(n);
  let last = at.find((i) => i >= 0) ?? 0;
  for (let i = 0; i < n; i++) {
    if (at[i]! >= 0) {
      if (at[i]! < last) return null; // times step back: neighbours in the file are no neighbours in time
      last = at[i]!;
    }
    time_s[i] = series.time_s[last]!;
    level_log[i] = log[last]!;
  }
  const spray = spraySeries(stream, time_s, level_log);
  const fill_log = Float64Array.from(at, (i) => Math.log(series.injection_ms[Math.max(0, i)] ?? Number.NaN));
  const followed = context.per_fill ? sprayPerFill(spray, fill_log) : spray;
  const usual_level = median(series.level);
  return joined(followed, at, series.time_s.length, found, { ...context, usual_level });
}

/** The same from a spray series at hand: `at` gives the scan of the group for each of its scans, `count` their number. */
export function joined(
  spray: SpraySeries,
  at: Int32Array,
  count: number,
  found: FoundEvents,
  context: { group: number; polarity: 'positive' | 'negative' | 'unknown'; usual_level?: number },
): GroupSpray | null {
  const silent = found.events
    .filter((event) => event.kind === 'signal lost at the end' || event.kind === 'level lost')
    .map(({ start_s, end_s }) => ({ start_s, end_s }));
  if (found.bare_start) silent.push(found.bare_start);
  const read = sprayReading(spray, { ...context, at, count, silent });
  if (!read) return null;
  const level = found.events.map((event) =>
    spray.has_background ? answered(event, spray) : unwitnessed(event),
  );
  const own = read.events.filter((event) => !overlapped(event, level) && !inSilence(event, silent));
  return { ...read, events: [...level, ...own].sort((a, b) => a.start_s - b.start_s) };
}

/** The stream that holds most of the scans of a group; undefined where none holds enough. */
export function streamOf(witnesses: Witnesses, places: Int32Array, rows: number): WitnessStream | undefined {
  let best: WitnessStream | undefined;
  let most = 0;
  for (const stream of witnesses.streams) {
    let held = 0;
    for (const row of stream.rows) if ((places[row] ?? -1) >= 0) held++;
    if (held > most) {
      most = held;
      best = stream;
    }
  }
  return most >= HELD_SHARE * rows && most >= LEAST_SCANS ? best : undefined;
}

/** The background ions agree or deny that a fall of the level was the spray's. */
function answered(event: RunEvent, spray: SpraySeries): RunEvent {
  if (event.depth === null || event.depth >= 1) return event;
  if (event.kind === 'signal lost at the end' || event.kind === 'level lost') return event;
  let first = 0;
  while (first < spray.time_s.length && spray.time_s[first]! < event.start_s) first++;
  let past = first;
  while (past < spray.time_s.length && spray.time_s[past]! <= event.end_s) past++;
  const size = -boxSize(spray.background.log, first, past);
  const depth_log = -Math.log(1 - event.depth);
  // Most ions missing leaves no value: that is a loss as well.
  if (Number.isNaN(size)) return event;
  if (size >= AGREES * depth_log) {
    return moved(event, AGREED, 'the background ions fall too', true);
  }
  if (size < DENIES * depth_log) {
    return moved(event, -DENIED, 'the background ions keep their level, as with elution', false);
  }
  return event;
}

function moved(event: RunEvent, change: number, words: string, common: boolean): RunEvent {
  return {
    ...event,
    confidence: Math.round(100 * Math.min(0.95, Math.max(0.05, event.confidence + change))) / 100,
    confidence_basis: `${event.confidence_basis}; ${words}`,
    causes: causeWords(event.kind, event.end_s - event.start_s, common),
    common,
  };
}

/** The same fall found by the level: that one stands when it is believed at least as much. */
function overlapped(event: RunEvent, level: RunEvent[]): boolean {
  if (event.depth === null) return false;
  const twin = level.findIndex((other) => other.start_s < event.end_s && event.start_s < other.end_s);
  if (twin < 0) return false;
  const other = level[twin]!;
  if (other.kind === 'signal lost at the end' || other.kind === 'level lost') return true;
  if (other.confidence >= event.confidence) return true;
  level.splice(twin, 1);
  return false;
}

function inSilence(event: RunEvent, silent: readonly { start_s: number; end_s: number }[]): boolean {
  return silent.some((span) => event.start_s < span.end_s && span.start_s < event.end_s);
}
