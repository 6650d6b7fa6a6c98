/**
 * A surrogate of hours of steady spray from one run: its own residuals about the slow course, level, background factor
 * and gains together, drawn in blocks of BLOCK_S, each chosen to go on like the one before (matched-block bootstrap: Carlstein et al., 1998,
 * Bernoulli 4:305, from memory), and put back on the run's own course. It holds no fault the run does not
 * hold, and nothing rarer than the run shows; false alarms found on it are a lower bound for real hours.
 */
import { randomStream } from '../../src/core/random.ts';
import { scanScatter, slowMedian } from '../../src/core/signal/index.ts';
import { type RunEvent, runWitnesses, type Witnesses } from '../../src/evidence/index.ts';
import { jointEvents } from '../../src/evidence/joint-falls.ts';
import { type WitnessSeries, witnessed } from '../../src/evidence/other-groups.ts';
import { levelOnly } from '../../src/evidence/read-run.ts';
import { levelEvents, logLevel } from '../../src/evidence/run-events.ts';
import { scanGroups } from '../../src/evidence/run-groups.ts';
import { type LevelSeries, levelSeries } from '../../src/evidence/run-level.ts';
import { type GroupJumps, groupJumps } from '../../src/evidence/witness/group-jumps.ts';
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
  const seen = witnessesOf(run);
  const spray = sprayOf(seen, series.rows, series.time_s, log);
  const interval_s = (series.time_s[n - 1]! - series.time_s[0]!) / (n - 1);
  const block = Math.max(4, Math.round(BLOCK_S / interval_s));
  const piece_h = (n * interval_s) / 3600;
  const at = Int32Array.from({ length: n }, (_, i) => i);
  const alone = !spray?.has_background;
  const jump = alone ? groupJumps(seen, series.rows) : undefined;
  const turns = alone ? takenInTurn(run, group, seen) : [];
  const stream = randomStream(seed, `surrogate ${run.name}`);
  const draw = (): number => stream.index(Math.max(1, n - block));
  /** Where background ions stand, of some places the one that goes on most like the block before. */
  const nextBlock = (last: number): number => {
    const log = alone || last < 0 ? undefined : spray?.background.log;
    if (!log) return draw();
    const wanted = meanFrom(log, last + 1);
    let best = draw();
    for (let k = 1; k < LIKE_PLACES; k++) {
      const other = draw();
      if (Math.abs(meanFrom(log, other) - wanted) < Math.abs(meanFrom(log, best) - wanted)) best = other;
    }
    return best;
  };
  for (let done = 0; done < hours; done += piece_h) {
    const from = new Int32Array(n);
    const joins: number[] = [];
    for (let i = 0; i < n; ) {
      joins.push(i);
      const start = nextBlock(i > 0 ? from[i - 1]! : -1);
      for (let k = 0; k < block && i < n; k++) from[i++] = start + k;
    }
    // Where edges of the level are judged none may be made where blocks meet.
    const residual = !alone
      ? (values: Float64Array, about: Float64Array, i: number): number => values[from[i]!]! - about[from[i]!]!
      : faded(from, joins);
    const drawn = (values: ArrayLike<number>): Float64Array =>
      Float64Array.from(from, (i) => values[i] ?? Number.NaN);
    const jumpsDrawn = ({ value, error }: GroupJumps): GroupJumps => ({
      value: drawn(value),
      error: drawn(error),
    });
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
            jump: drawn(spray.jump),
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
    const told = joint?.events ?? levelOnly(made, level_log, found, 0, true);
    yield {
      hours: piece_h,
      level: Float64Array.from(made.level),
      joins_s: joins.map((i) => series.time_s[i]!),
      events: alone
        ? inTurn(told, made, level_log, jump && jumpsDrawn(jump), turns, residual, jumpsDrawn)
        : told,
    };
  }
}

/** Places drawn for a block, and scans by which the next one is chosen: blocks that wander about the course by a tenth would else meet in edges no run has. */
const LIKE_PLACES = 6;
const LIKE_SCANS = 6;

/** Mean of the known values of LIKE_SCANS from `first` on; 0, the course, where there is none. */
function meanFrom(log: Float64Array, first: number): number {
  let sum = 0;
  let count = 0;
  for (let i = first; i < Math.min(log.length, first + LIKE_SCANS); i++) {
    if (!Number.isFinite(log[i]!)) continue;
    sum += log[i]!;
    count++;
  }
  return count > 0 ? sum / count : 0;
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
  jump?: GroupJumps;
}

/** Groups whose scans come one for one with those of the main group: drawn from the same moments. */
function takenInTurn(run: MemoryRun, main: { rows: ArrayLike<number> }, seen: Witnesses): Turn[] {
  return scanGroups(run.record)
    .groups.filter(
      (group) => Math.abs(group.rows.length - main.rows.length) <= 2 && group.rows[0] !== main.rows[0],
    )
    .map((group) => {
      const series = levelSeries(run.record, group);
      const { log } = logLevel(series.level);
      const jump = groupJumps(seen, series.rows);
      return {
        time_s: series.time_s,
        log,
        course: slowMedian(series.time_s, log, COURSE_S / 2, COURSE_SCANS),
        ...(jump ? { jump } : {}),
      };
    });
}

/** `told` answered for by the groups taken in turn, and what they show together. */
function inTurn(
  told: readonly RunEvent[],
  made: LevelSeries,
  level_log: Float64Array,
  jump: GroupJumps | undefined,
  turns: readonly Turn[],
  residual: Residual,
  drawn: (jump: GroupJumps) => GroupJumps,
): RunEvent[] {
  const series = (time_s: readonly number[], log: Float64Array, jumps?: GroupJumps): WitnessSeries => ({
    time_s,
    log,
    sigma: scanScatter(time_s, log, COURSE_S, COURSE_SCANS).overall,
    ...(jumps ? { jump: jumps } : {}),
  });
  const n = level_log.length;
  const others = turns.map((turn) => {
    const log = turn.course.map(
      (_, i) => turn.course[i]! + residual(turn.log, turn.course, Math.min(i, n - 1)),
    );
    const own = turn.jump && drawn(turn.jump);
    // One scan more or less than the main group: it has no jump.
    const fitted = (values: Float64Array): Float64Array =>
      Float64Array.from(log, (_, i) => values[i] ?? Number.NaN);
    const jumps = own && { value: fitted(own.value), error: fitted(own.error) };
    return series(turn.time_s, log, jumps);
  });
  return jointEvents(
    told.map((event) => witnessed(event, others)),
    series(made.time_s, level_log, jump),
    others,
    0,
  );
}

function witnessesOf(run: MemoryRun): Witnesses {
  const witnesses = runWitnesses();
  for (const spectrum of run.spectra) witnesses.see(spectrum);
  return witnesses.finish();
}

function sprayOf(
  { streams }: Witnesses,
  rows: readonly number[],
  time_s: readonly number[],
  log: Float64Array,
): SpraySeries | undefined {
  const stream = streams.find(
    (one) => one.rows.length === rows.length && one.rows.every((row, i) => row === rows[i]),
  );
  if (!stream) return undefined;
  const spray = spraySeries(stream, time_s, log);
  return spray.has_background || spray.has_course ? spray : undefined;
}
