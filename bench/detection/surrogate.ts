/**
 * A surrogate of hours of steady spray from one run: its own residuals about the slow course, level, background factor
 * and gains together, drawn in blocks of BLOCK_S and put back on the run's own course. It holds no fault the run does not
 * hold, and nothing rarer than the run shows; false alarms found on it are a lower bound for real hours.
 */
import { randomStream } from '../../src/core/random.ts';
import { scanScatter, slowMedian } from '../../src/core/signal/index.ts';
import { type RunEvent, runWitnesses } from '../../src/evidence/index.ts';
import { jointEvents } from '../../src/evidence/joint-falls.ts';
import { type WitnessSeries, witnessed } from '../../src/evidence/other-groups.ts';
import { levelOnly } from '../../src/evidence/read-run.ts';
import { type FoundEvents, levelEvents, logLevel } from '../../src/evidence/run-events.ts';
import { scanGroups } from '../../src/evidence/run-groups.ts';
import { type LevelSeries, levelSeries } from '../../src/evidence/run-level.ts';
import { joined } from '../../src/evidence/witness/group-spray.ts';
import { type SpraySeries, spraySeries } from '../../src/evidence/witness/spray-series.ts';
import type { MemoryRun } from './memory-run.ts';

const BLOCK_S = 60;
const COURSE_S = 60;
const COURSE_SCANS = 21;

export interface Piece {
  hours: number;
  level: Float64Array;
  events: RunEvent[];
  /** Times at which two blocks meet. */
  joins_s: number[];
}

/** Pieces as long as the run, one after the other, until `hours` are full. */
export function* surrogate(run: MemoryRun, hours: number, seed: number): Generator<Piece> {
  const groups = scanGroups(run.record).groups;
  const group = groups.reduce((best, other) => (other.rows.length > best.rows.length ? other : best));
  const series = levelSeries(run.record, group);
  const { log } = logLevel(series.level);
  const n = series.time_s.length;
  const course = slowMedian(series.time_s, log, COURSE_S / 2, COURSE_SCANS);
  const spray = sprayOf(run, series.rows, series.time_s, log);
  const interval_s = (series.time_s[n - 1]! - series.time_s[0]!) / (n - 1);
  const block = Math.max(4, Math.round(BLOCK_S / interval_s));
  const piece_h = (n * interval_s) / 3600;
  const at = Int32Array.from({ length: n }, (_, i) => i);
  const turns = spray ? [] : takenInTurn(run, group);
  const stream = randomStream(seed, `surrogate ${run.name}`);
  for (let done = 0; done < hours; done += piece_h) {
    const from = new Int32Array(n);
    const joins: number[] = [];
    for (let i = 0; i < n; ) {
      joins.push(i);
      const start = stream.index(Math.max(1, n - block));
      for (let k = 0; k < block && i < n; k++) from[i++] = start + k;
    }
    // A level that stands alone is judged by its edges: none may be made where blocks meet.
    const residual = spray
      ? (values: Float64Array, about: Float64Array, i: number): number => values[from[i]!]! - about[from[i]!]!
      : faded(from, joins);
    const drawn = (values: ArrayLike<number>): Float64Array => Float64Array.from(from, (i) => values[i]!);
    const level_log = course.map((value, i) => value + residual(log, course, i));
    const made = {
      ...series,
      level: [...level_log.map((value) => Math.exp(value))],
      injection_ms: series.injection_ms.map(() => null),
    };
    const scatter = scanScatter(made.time_s, level_log, COURSE_S, COURSE_SCANS);
    const found = levelEvents(made, level_log, scatter, 0, null);
    const joint = spray
      ? joined(
          {
            ...spray,
            level_log,
            background: {
              ...spray.background,
              log: drawn(spray.background.log),
              error: drawn(spray.background.error),
              low: drawn(spray.background.low),
              high: drawn(spray.background.high),
              // The run's own slow course stays in its place.
              course: spray.background.course,
            },
            step: drawn(spray.step),
            course: drawn(spray.course),
            gain: drawn(spray.gain),
            gain_error: drawn(spray.gain_error),
            gain_low: drawn(spray.gain_low),
            gain_high: drawn(spray.gain_high),
          },
          at,
          n,
          found,
          { group: 0, polarity: 'positive' },
        )
      : null;
    yield {
      hours: piece_h,
      level: Float64Array.from(made.level),
      joins_s: joins.map((i) => series.time_s[i]!),
      events: joint?.events ?? alone(made, level_log, found, turns, residual),
    };
  }
}

/** Deviation of a series from its course that the surrogate puts at scan `i`. */
type Residual = (values: Float64Array, about: Float64Array, i: number) => number;

/** Scans over which one block goes over into the next. */
const FADE_SCANS = 8;

function faded(from: Int32Array, joins: readonly number[]): Residual {
  const start = new Int32Array(from.length);
  for (const join of joins) start.fill(join, join);
  return (values, about, i) => {
    const at = (k: number): number => {
      const inside = Math.min(values.length - 1, k);
      return values[inside]! - about[inside]!;
    };
    const own = at(from[i]!);
    const since = i - start[i]!;
    if (start[i] === 0 || since >= FADE_SCANS) return own;
    const share = (since + 1) / (FADE_SCANS + 1);
    // What the block before would have gone on with.
    return share * own + (1 - share) * at(from[start[i]! - 1]! + 1 + since);
  };
}

interface Turn {
  time_s: readonly number[];
  log: Float64Array;
  course: Float64Array;
}

/** Groups whose scans come one for one with those of the main group: drawn from the same moments. */
function takenInTurn(run: MemoryRun, main: { rows: ArrayLike<number> }): Turn[] {
  return scanGroups(run.record)
    .groups.filter(
      (group) =>
        Math.abs(group.rows.length - main.rows.length) <= 2 &&
        (group.rows as ArrayLike<number>) !== main.rows,
    )
    .map((group) => {
      const series = levelSeries(run.record, group);
      const { log } = logLevel(series.level);
      return {
        time_s: series.time_s,
        log,
        course: slowMedian(series.time_s, log, COURSE_S / 2, COURSE_SCANS),
      };
    });
}

function alone(
  made: LevelSeries,
  level_log: Float64Array,
  found: FoundEvents,
  turns: readonly Turn[],
  residual: Residual,
): RunEvent[] {
  const series = (time_s: readonly number[], log: Float64Array): WitnessSeries => ({
    time_s,
    log,
    sigma: scanScatter(time_s, log, COURSE_S, COURSE_SCANS).overall,
  });
  const others = turns.map(({ time_s, log, course }) =>
    series(
      time_s,
      course.map((value, i) => value + residual(log, course, Math.min(i, level_log.length - 1))),
    ),
  );
  const told = levelOnly(made, level_log, found, 0, true).map((event) => witnessed(event, others));
  return jointEvents(told, series(made.time_s, level_log), others, 0);
}

function sprayOf(
  run: MemoryRun,
  rows: readonly number[],
  time_s: readonly number[],
  log: Float64Array,
): SpraySeries | undefined {
  const witnesses = runWitnesses();
  for (const spectrum of run.spectra) witnesses.see(spectrum);
  const stream = witnesses
    .finish()
    .streams.find((one) => one.rows.length === rows.length && one.rows.every((row, i) => row === rows[i]));
  if (!stream) return undefined;
  const spray = spraySeries(stream, time_s, log);
  return spray.has_background || spray.has_course ? spray : undefined;
}
