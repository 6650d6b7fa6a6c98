/**
 * Holds a run against one or several good runs of the same method: the ratio of the two over run time is flat for a good
 * run, whatever elutes. By standing ions where enough stand in both, else by passing ions, else by the level. A reference
 * that is none (other polarity or scan mode, too little overlap, other ions, another course) is refused by name.
 */
import { median } from '../../core/numeric/robust.ts';
import { lastingChange } from '../../core/signal/lasting-change.ts';
import type { RunGroup, RunReading } from '../run-reading.ts';
import { STEP_S } from '../witness/ion-passages.ts';
import type { AgainstAlignment, AgainstFrom, AgainstReading, AgainstReference } from './against-reading.ts';
import { againstSentences, againstUndecided } from './against-words.ts';
import {
  known,
  partners,
  passingRatio,
  type RatioSeries,
  STANDING_SHARE,
  standingRatio,
} from './common-ions.ts';
import { type IonCurve, ionCurves, passingIons } from './ions-in-run.ts';
import {
  changesOf,
  isCounted,
  levelRatio,
  QUIET_LOG,
  stepOf,
  steppedFill,
  steppedLevel,
} from './level-ratio.ts';
import { ratioEvents } from './ratio-events.ts';
import { type RunTimes, sameTimes, timesByIons, timesByLevel } from './run-times.ts';
import { scatterAgainst } from './scatter-ratio.ts';

export interface NamedReading {
  name: string;
  reading: RunReading;
}

/** Judgement throughout. Overlap of the two runs, as a share of this one; scan spacings that still are one method. */
const LEAST_OVERLAP = 0.5;
const MOST_SPACING = 3;
/** Share of the fewer standing ions that has to be found in the other run. */
const LEAST_SHARED = 0.4;
/** Standing ions from which on they carry the ratio. */
const LEAST_STANDING = 8;
/** Correlation of the changes of the two levels from which on they are one method's. */
const LEAST_RESEMBLANCE = 0.5;
/** Steps a ratio needs. */
const LEAST_STEPS = 24;
const LEAST_LOAD_IONS = 20;
/** Two runs' m/z may be calibrated apart: so many times the larger tolerance. */
const CALIBRATION = 2;
const NORMAL_95 = 1.96;

export function readAgainst(run: RunReading, references: readonly NamedReading[]): AgainstReading {
  const group = run.main_group;
  const ours = run.groups[group];
  const compared = references.map(({ name, reading }) => compare(ours, reading, name));
  const best = (['standing ions', 'passing ions', 'level'] as const).find((from) =>
    compared.some((one) => one.ratio && one.from === from),
  );
  const used = compared.filter(
    (one): one is Compared & { ratio: RatioSeries } => !!one.ratio && one.from === best,
  );
  const told = compared.map((one) => toldOf(one, best));
  const reading: AgainstReading = { group, references: told, events: [], sentences: [], undecided: [] };
  if (!ours || !best || used.length === 0) {
    reading.sentences = againstSentences(reading, []);
    return reading;
  }
  const { start_s, step_s } = used[0]!.grid;
  const each = used.map(({ ratio }) => masked(ratio.log, start_s, step_s, run.masked));
  const log = middleOf(each);
  const spread = spreadOf(each, step_s);
  const found = ratioEvents({
    start_s,
    step_s,
    log,
    low: middleOf(used.map(({ ratio }) => ratio.low)),
    high: middleOf(used.map(({ ratio }) => ratio.high)),
    each,
    from: best,
    spread,
    group,
  });
  // What it was before it changed is what a ratio of 1 stands for.
  const lasting = found.events.find(({ kind }) => kind === 'step' || kind === 'drift');
  const before = lasting ? log.subarray(0, Math.round((lasting.start_s - start_s) / step_s)) : log;
  const usual = median(known(before));
  const scatter = scatterAgainst(
    ours,
    used.map(({ group: theirs, times }) => ({ group: theirs!, times: times! })),
    group,
  );
  reading.from = best;
  reading.events = [...found.events, ...(scatter?.event ? [scatter.event] : [])].sort(
    (a, b) => a.start_s - b.start_s,
  );
  reading.ratio = rangeOf(used.map(({ ratio }) => ({ value: ratio.middle, error: ratio.middle_error })));
  const loads = used.flatMap(({ load }) => (load ? [load] : []));
  if (loads.length > 0)
    reading.load = { ...rangeOf(loads), ions: Math.round(median(loads.map(({ ions }) => ions))) };
  reading.series = {
    time_s: Array.from(log, (_, i) => round(start_s + (i + 0.5) * step_s, 100)),
    log: shown(log.map((value) => value - usual)),
    error: shown(middleOf(used.map(({ ratio }) => ratio.error)).map((value) => Math.hypot(value, spread))),
  };
  if (found.looked) {
    reading.wander = round(found.wander, 1e4);
    reading.least_step = round(1 - Math.exp(-found.least_log), 1e3);
  }
  reading.sentences = againstSentences(
    reading,
    references.map((one) => one.reading),
  );
  reading.undecided = againstUndecided(reading);
  return reading;
}

interface Compared {
  name: string;
  refused?: string;
  from?: AgainstFrom;
  grid: { start_s: number; step_s: number; steps: number };
  ratio?: RatioSeries;
  group?: RunGroup;
  times?: RunTimes;
  load?: { value: number; error: number; ions: number };
}

function compare(ours: RunGroup | undefined, reading: RunReading, name: string): Compared {
  const none = { name, grid: { start_s: 0, step_s: STEP_S, steps: 0 } };
  if (!ours) return { ...none, refused: 'this run holds no MS1 scans' };
  const theirs = reading.groups.find(({ label }) => label === ours.label);
  if (!theirs) return { ...none, refused: otherGroups(ours, reading) };
  const spacing = theirs.interval_s / ours.interval_s;
  if (spacing > MOST_SPACING || spacing < 1 / MOST_SPACING)
    return {
      ...none,
      refused: `another scan cycle: MS1 every ${theirs.interval_s.toFixed(2)} s against ${ours.interval_s.toFixed(2)} s`,
    };
  const together_s = Math.min(ours.end_s, theirs.end_s) - Math.max(ours.start_s, theirs.start_s);
  const whole_s = ours.end_s - ours.start_s;
  if (together_s < LEAST_OVERLAP * whole_s) return { ...none, refused: overlapWords(together_s / whole_s) };
  const byIons = ours.ions && theirs.ions ? compareIons(ours, theirs, name) : undefined;
  const result = byIons ?? compareLevels(ours, theirs, name);
  if (result.refused) return result;
  const { grid, times } = result;
  const shared = Array.from({ length: grid.steps }, (_, i) =>
    times!.there(grid.start_s + (i + 0.5) * grid.step_s),
  );
  const overlap = shared.filter((time_s) => time_s >= theirs.start_s && time_s <= theirs.end_s).length;
  if (overlap < LEAST_OVERLAP * grid.steps) return { ...none, refused: overlapWords(overlap / grid.steps) };
  if (known(result.ratio!.log).length < LEAST_STEPS)
    return {
      ...none,
      refused: `too short: ${known(result.ratio!.log).length} steps of ${grid.step_s.toFixed(0)} s can be compared, at least ${LEAST_STEPS} are needed`,
    };
  return { ...result, group: theirs };
}

function overlapWords(share: number): string {
  return `too little overlap: it covers ${Math.max(0, Math.floor(100 * share))} % of the time of this run, at least ${100 * LEAST_OVERLAP} % are needed`;
}

function otherGroups(ours: RunGroup, reading: RunReading): string {
  const main = reading.groups[reading.main_group];
  if (!main) return 'it holds no MS1 scans';
  return main.polarity === ours.polarity
    ? `another scan mode: ${main.label} against ${ours.label}`
    : `the other polarity: ${main.label} against ${ours.label}`;
}

/** Undefined where the ions do not decide; then the level may. */
function compareIons(ours: RunGroup, theirs: RunGroup, name: string): Compared | undefined {
  const own = ours.ions!;
  const other = theirs.ions!;
  const share = CALIBRATION * Math.max(own.tolerance_ppm, other.tolerance_ppm) * 1e-6;
  const mine = ionCurves(own);
  const its = ionCurves(other);
  const standing = (curves: readonly IonCurve[], steps: number): IonCurve[] =>
    curves.filter(({ seen }) => seen >= STANDING_SHARE * steps);
  const mineStanding = standing(mine, own.steps);
  const itsStanding = standing(its, other.steps);
  const passing = passingIons(own, mine, new Set(mineStanding));
  const itsPassing = passingIons(other, its, new Set(itsStanding));
  const span = { from_s: own.start_s, to_s: own.start_s + own.steps * own.step_s };
  const found = timesByIons(passing, itsPassing, share, span, own.step_s);
  const times = found ?? sameTimes();
  const grid = { start_s: own.start_s, step_s: own.step_s, steps: own.steps };
  const stands = standingRatio(mineStanding, itsStanding, share, grid, other, times);
  const fewer = Math.min(mineStanding.length, itsStanding.length);
  if (fewer >= LEAST_STANDING && (stands?.ions ?? 0) < LEAST_SHARED * fewer)
    return {
      name,
      grid,
      refused: `other ions: of ${fewer} that stand throughout ${stands?.ions ?? 0} are found in both, so the liquid or the method differs`,
    };
  const passes = found ? passingRatio(passing, itsPassing, share, grid, times) : undefined;
  if (stands && stands.ions >= LEAST_STANDING) {
    const pairs = found
      ? partners(passing, itsPassing, share, 2 * own.step_s, times).map((pair) => pair.log)
      : [];
    return {
      name,
      from: 'standing ions',
      grid,
      times,
      ratio: perFill(stands, ours, theirs, times, grid),
      ...(passes && pairs.length >= LEAST_LOAD_IONS
        ? {
            load: {
              value: median(pairs) - stands.middle,
              error: Math.hypot(passes.middle_error, stands.middle_error),
              ions: pairs.length,
            },
          }
        : {}),
    };
  }
  if (!passes || known(passes.log).length < grid.steps / 2) return undefined;
  return { name, from: 'passing ions', grid, times, ratio: perFill(passes, ours, theirs, times, grid) };
}

/** Counts of a scan follow its fill: taken out of the ratio where a run holds counts. */
function perFill(
  ratio: RatioSeries,
  ours: RunGroup,
  theirs: RunGroup,
  times: RunTimes,
  grid: Compared['grid'],
): RatioSeries {
  if (!isCounted(ours) && !isCounted(theirs)) return ratio;
  const beside = levelRatio(
    steppedFill(ours, grid.step_s, grid.start_s),
    steppedFill(theirs, grid.step_s, theirs.start_s),
    times,
  );
  const less = (values: Float64Array): Float64Array =>
    values.map((value, i) => value - (beside.log[i] ?? Number.NaN));
  return {
    ...ratio,
    log: less(ratio.log),
    low: less(ratio.low),
    high: less(ratio.high),
    middle: ratio.middle - beside.middle,
  };
}

function compareLevels(ours: RunGroup, theirs: RunGroup, name: string): Compared {
  const step_s = stepOf([ours, theirs], STEP_S);
  const level = steppedLevel(ours, step_s);
  const other = steppedLevel(theirs, step_s);
  const grid = { start_s: ours.start_s, step_s, steps: level.log.length };
  const quiet = changesOf(level) < QUIET_LOG && changesOf(other) < QUIET_LOG;
  const best = timesByLevel(level, other);
  if (best.resemblance < LEAST_RESEMBLANCE && !quiet)
    return {
      name,
      grid,
      refused: `another course: the levels change alike by ${best.resemblance.toFixed(2)} only (expected ${LEAST_RESEMBLANCE} or more), and no ions decide`,
    };
  const times = best.resemblance >= LEAST_RESEMBLANCE ? best.times : sameTimes();
  return { name, from: 'level', grid, times, ratio: levelRatio(level, other, times) };
}

function toldOf(
  { name, refused, from, times, ratio }: Compared,
  best: AgainstFrom | undefined,
): AgainstReference {
  if (refused !== undefined || !ratio || !times)
    return { name, refused: refused ?? 'nothing in it can be compared' };
  if (from !== best)
    return {
      name,
      refused: `only its ${from === 'level' ? 'level' : from} can be compared, others by ${best}`,
    };
  const alignment: AgainstAlignment = {
    from: times.from,
    shift_s: round(times.shift_s, 10),
    stretch: round(times.stretch, 1e4),
    points: times.points.map(({ time_s, shift_s }) => ({
      time_s: round(time_s, 10),
      shift_s: round(shift_s, 10),
    })),
  };
  return { name, alignment, from: from!, ions: ratio.ions, ratio: round(Math.exp(ratio.middle), 1e3) };
}

function masked(
  log: Float64Array,
  start_s: number,
  step_s: number,
  spans: readonly { start_s: number; end_s: number }[],
): Float64Array {
  return log.map((value, i) => {
    const time_s = start_s + (i + 0.5) * step_s;
    return spans.some((span) => time_s >= span.start_s && time_s < span.end_s) ? Number.NaN : value;
  });
}

/** Middle over the references in each step. */
function middleOf(each: readonly Float64Array[]): Float64Array {
  const full = each.filter(({ length }) => length > 0);
  if (full.length === 0) return new Float64Array(0);
  return full[0]!.map((_, i) => {
    const values = full.map((one) => one[i]!).filter((value) => !Number.isNaN(value));
    return values.length > 0 ? median(values) : Number.NaN;
  });
}

/** What the references wander by against each other, as it enters a middle of all. */
function spreadOf(each: readonly Float64Array[], step_s: number): number {
  let most = 0;
  for (let a = 0; a < each.length; a++)
    for (let b = a + 1; b < each.length; b++) {
      const between = known(each[a]!.map((value, i) => value - each[b]![i]!));
      const { wander } = lastingChange(between, { block: Math.max(2, Math.round(60 / step_s)) });
      if (Number.isFinite(wander)) most = Math.max(most, wander / Math.SQRT2);
    }
  return most;
}

function rangeOf(list: readonly { value: number; error: number }[]): {
  value: number;
  low: number;
  high: number;
} {
  const value = median(list.map((one) => one.value));
  const error = median(list.map((one) => one.error));
  const apart = list.length > 1 ? Math.max(...list.map((one) => Math.abs(one.value - value))) : 0;
  const half = Math.max(NORMAL_95 * error, apart);
  return {
    value: round(Math.exp(value), 1e3),
    low: round(Math.exp(value - half), 1e3),
    high: round(Math.exp(value + half), 1e3),
  };
}

function shown(values: Float64Array): (number | null)[] {
  return Array.from(values, (value) => (Number.isFinite(value) ? round(value, 1e4) : null));
}

function round(value: number, digits: number): number {
  return Math.round(value * digits) / digits;
}
