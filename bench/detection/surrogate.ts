/**
 * A surrogate of hours of steady spray from one run: its own residuals about the slow course, level, background factor
 * and gains together, drawn in blocks of BLOCK_S and put back on the run's own course. It holds no fault the run does not
 * hold, and nothing rarer than the run shows; false alarms found on it are a lower bound for real hours.
 */
import { randomStream } from '../../src/core/random.ts';
import { scanScatter, slowMedian } from '../../src/core/signal/index.ts';
import { type RunEvent, runWitnesses } from '../../src/evidence/index.ts';
import { unwitnessed } from '../../src/evidence/read-run.ts';
import { levelEvents, logLevel } from '../../src/evidence/run-events.ts';
import { scanGroups } from '../../src/evidence/run-groups.ts';
import { levelSeries } from '../../src/evidence/run-level.ts';
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
  const stream = randomStream(seed, `surrogate ${run.name}`);
  for (let done = 0; done < hours; done += piece_h) {
    const from = new Int32Array(n);
    for (let i = 0; i < n; ) {
      const start = stream.index(Math.max(1, n - block));
      for (let k = 0; k < block && i < n; k++) from[i++] = start + k;
    }
    const drawn = (values: ArrayLike<number>): Float64Array => Float64Array.from(from, (i) => values[i]!);
    const level_log = course.map((value, i) => value + log[from[i]!]! - course[from[i]!]!);
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
      events: joint?.events ?? found.events.map(unwitnessed),
    };
  }
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
