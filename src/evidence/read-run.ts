/**
 * Reads the stability of a spray from the MS1 scans of one run: groups that may be compared, the level of each, its
 * robust scatter, falls and gaps, the minutes that can be trusted, a verdict in words and what stays open.
 * Rests on the level, the fill times where given and the peaks of the scans where they were followed while the file was
 * read (runWitnesses). Scans come about once a second, so no regime is ever named.
 */
import { madSigma } from '../core/numeric/robust.ts';
import { type ScanScatter, scanScatter, slowMedian, usualSpacing } from '../core/signal/index.ts';
import type { RunRecord } from '../formats/run-record.ts';
import { injectionSummary } from './injection-time.ts';
import { jointEvents, leastJointFall } from './joint-falls.ts';
import { methodJudged } from './method-judged.ts';
import { type Method, methodOfTraces, phasesWithin } from './method-phases.ts';
import { type WitnessSeries, witnessed } from './other-groups.ts';
import { type FoundEvents, gapEvent, holes, levelEvents, logLevel } from './run-events.ts';
import { type ScanGroup, scanGroups } from './run-groups.ts';
import { type LevelSeries, levelSeries } from './run-level.ts';
import type { MaskedSpan, RunEvent, RunGroup, RunReading } from './run-reading.ts';
import { length, less, type Span, STRETCH_S, STRETCH_SCANS, trust } from './run-trust.ts';
import { undecided } from './run-undecided.ts';
import { LEAST_SCANS, verdict } from './run-verdict.ts';
import { besideTraces, sideTraces, traceCourses } from './side-traces.ts';
import { DECIDES, stability } from './stability.ts';
import { unwitnessed } from './unwitnessed.ts';
import { firstPast } from './within-times.ts';
import { withJointLimits } from './witness/detection-limits.ts';
import { type GroupJumps, groupJumps } from './witness/group-jumps.ts';
import { type GroupSpray, groupSpray, streamOf } from './witness/group-spray.ts';
import { levelPerFill } from './witness/per-fill.ts';
import { placesOf } from './witness/places.ts';
import { rateReading } from './witness/rate.ts';
import type { Witnesses } from './witness/run-witnesses.ts';
import { levelStepEvents } from './witness/step-events.ts';

/** The slow course is a running median over this time, and at least so many scans: longer than one elution peak. */
const COURSE_S = 60;
const COURSE_SCANS = 21;

export interface ReadRunOptions {
  /** What runWitnesses saw of the same file; without it the level stands alone and the reading says what it lacks. */
  witnesses?: Witnesses;
  /** Stretches to leave out: injection, wash, whatever is known to be no part of the spray. */
  mask?: readonly Span[];
  /** The phases of the method; what is no elution is left out and judged apart. Without it a flow trace in the file may tell. */
  method?: Method;
}

const LACKS = [
  'The peaks of the scans were not read: no common gain, no background ions, no ripple and no flicker was looked for.',
];
const ASKED = 'asked for';

export function readRun(record: RunRecord, options: ReadRunOptions = {}): RunReading {
  const method = options.method ?? methodOfTraces(record);
  const asked = (options.mask ?? [])
    .filter((span) => span.end_s > span.start_s)
    .map(({ start_s, end_s }) => ({ start_s, end_s, reason: ASKED }));
  const { groups: scanned, warnings } = scanGroups(record);
  const parts = scanned.map((group, index) => readGroup(record, group, index, options.witnesses));
  const groups = parts.map((part) => part.group);
  const main = mainGroup(groups);
  const mainPart = parts[main];
  const events = parts.flatMap((part) => {
    const others = parts.filter((other) => other !== part);
    const told = part.events.map((event) => witnessed(event, others.map(witnessSeries)));
    if (part !== mainPart || part.spray?.reading.from === 'background ions') return told;
    // Of the others those whose scans come as often: an edge has to fall between two of each.
    const turns = others
      .filter(({ series }) => 2 * series.time_s.length > part.series.time_s.length)
      .map(witnessSeries);
    const one = witnessSeries(part);
    const { limits } = part.group;
    if (limits) {
      part.group.limits = withJointLimits(limits, leastJointFall(one, turns));
    }
    return jointEvents(told, one, turns, main);
  });
  if (mainPart) events.push(...mainPart.gaps.filter(empty(record)).map((hole) => gapEvent(hole, main)));
  events.sort((a, b) => a.start_s - b.start_s || a.group - b.group);
  const courses = traceCourses(record);
  const traces = sideTraces(courses);
  const phases = methodMask(method, mainPart?.series.time_s ?? []);
  const mask = [...asked, ...phases];
  // What lasts beyond what is left out stays: a spray lost before the wash is no part of the wash.
  const judgedEvents = events.filter(({ start_s, end_s }) => {
    const whole = { start_s, end_s: Math.max(end_s, start_s + MOMENT_S) };
    const outside_s = length(less([whole], mask));
    return outside_s >= OUTSIDE_S || outside_s >= OUTSIDE_SHARE * length([whole]);
  });
  const kept = besideTraces(judgedEvents, courses);

  const own = kept.filter((event) => event.group === main);
  // What the peaks only hint at is told, but takes no minutes.
  const taking = own.filter((event) => event.confidence >= DECIDES || event.from === undefined);
  const trusted = trust(
    mainPart?.series.time_s ?? [],
    mainPart?.group.interval_s ?? 0,
    taking,
    [...(mainPart?.gaps ?? []), ...mask],
    mainPart
      ? scanScatter(mainPart.series.time_s, mainPart.log, STRETCH_S, STRETCH_SCANS)
      : { overall: Number.NaN, local: new Float64Array(0) },
    mainPart?.bare_start,
  );
  const masked = [
    ...mask,
    ...(mainPart?.bare_start
      ? [
          {
            start_s: mainPart.bare_start.start_s,
            end_s: mainPart.bare_start.end_s,
            reason: 'found: the run stands far below what follows, diverted or not yet sprayed',
          },
        ]
      : []),
  ];
  const judged = verdict({
    group: mainPart?.group,
    ms1_count: record.ms1_count,
    masked,
    events: taking,
    trust: trusted,
    zeros: mainPart?.zeros ?? 0,
    bare_start: mainPart?.bare_start,
    invented: record.invented,
    broken: record.broken !== undefined,
  });
  const tell = judged.grade !== 'cannot tell';
  return {
    format: record.format,
    ms1_count: record.ms1_count,
    invented: record.invented,
    groups,
    main_group: main,
    events: kept,
    masked,
    ...(method && mainPart
      ? {
          method: methodJudged(
            method,
            mainPart.series.time_s,
            mainPart.log,
            events.filter((event) => event.group === main),
          ),
        }
      : {}),
    ...(traces.length > 0 ? { traces } : {}),
    stability: stability(mainPart?.group, own, tell),
    peaks_read: options.witnesses !== undefined,
    lacks: options.witnesses ? lacks(mainPart) : LACKS,
    trustworthy: tell ? trusted.trustworthy : [],
    trustworthy_share: tell ? trusted.share : 0,
    verdict: judged,
    undecided: undecided({
      group: mainPart?.group,
      events: own,
      sag_floor: mainPart?.sag_floor ?? 1,
      masked: asked.length > 0,
      method: method?.from,
      pressure: traces.some(({ name }) => name.startsWith('pressure')),
      bare_start: mainPart?.bare_start !== undefined,
    }),
    warnings: [...record.warnings, ...warnings, ...parts.flatMap((part) => part.series.warnings)],
    ...(record.broken ? { broken: record.broken } : {}),
  };
}

interface GroupPart {
  group: RunGroup;
  series: LevelSeries;
  log: Float64Array;
  scatter: ScanScatter;
  jump?: GroupJumps;
  events: RunEvent[];
  gaps: Span[];
  spray: GroupSpray | null;
  zeros: number;
  sag_floor: number;
  bare_start: FoundEvents['bare_start'];
}

/** A step this near to a fall or a bare start is its edge. */
const STEP_APART_S = 20;

/** Events of a level that stands alone; `followed` tells that the peaks were looked at in vain. */
export function levelOnly(
  series: Pick<LevelSeries, 'time_s'>,
  log: Float64Array,
  found: FoundEvents,
  group: number,
  followed: boolean,
): RunEvent[] {
  const known = found.bare_start ? [...found.events, found.bare_start] : found.events;
  const steps = levelStepEvents(series.time_s, log, group).filter(
    (step) =>
      !known.some(
        (span) => step.start_s < span.end_s + STEP_APART_S && span.start_s - STEP_APART_S < step.end_s,
      ),
  );
  const events = followed ? found.events.map(unwitnessed) : found.events;
  return [...events, ...steps].sort((a, b) => a.start_s - b.start_s);
}

/** Share of an event, or time, that has to lie outside what is left out for it to be judged. Judgement. */
const OUTSIDE_SHARE = 0.5;
const OUTSIDE_S = 60;
/** An event of no length is a moment. */
const MOMENT_S = 1e-3;

/** What of the method is no elution, within the run. */
function methodMask(method: Method | undefined, time_s: readonly number[]): MaskedSpan[] {
  if (!method) return [];
  return phasesWithin(method, time_s)
    .filter(({ name }) => name !== 'elution')
    .map(({ name, start_s, end_s }) => ({ start_s, end_s, reason: `${name}, by the ${method.by}` }));
}

function lacks(part: GroupPart | undefined): string[] {
  if (!part || part.spray) return [];
  return [
    'The peaks of the scans were read, but too few of them match or stay to follow the spray by: the level stands alone.',
  ];
}

function witnessSeries({ series, log, scatter, jump }: GroupPart): WitnessSeries {
  return { time_s: series.time_s, log, sigma: scatter.overall, ...(jump ? { jump } : {}) };
}

function readGroup(
  record: RunRecord,
  scans: ScanGroup,
  index: number,
  witnesses: Witnesses | undefined,
): GroupPart {
  const series = levelSeries(record, scans);
  const { time_s, level } = series;
  const n = time_s.length;
  const rate = rateReading(level, series.injection_ms);
  const per_fill = rate?.says === 'counts per scan';
  const { log, zeros } = logLevel(per_fill ? levelPerFill(level, series.injection_ms) : level);
  const scatter = scanScatter(time_s, log, COURSE_S, COURSE_SCANS);
  const gap_s = usualSpacing(time_s);
  // Times near the largest number there is differ by more than it.
  const interval_s = Number.isFinite(gap_s) ? gap_s : 0;
  const injection_time = injectionSummary(series.injection_ms);
  const found: FoundEvents =
    n >= LEAST_SCANS
      ? levelEvents(series, log, scatter, index, injection_time?.max_ms ?? null)
      : { events: [], sag_floor: 1 };
  const places = placesOf(witnesses ? series.rows : []);
  const stream = witnesses && streamOf(witnesses, places, n);
  const spray =
    stream && n >= LEAST_SCANS
      ? groupSpray(stream, places, series, log, found, { group: index, polarity: scans.polarity, per_fill })
      : null;
  // Ions counted per scan jump with its fill.
  const jump = witnesses && !per_fill ? groupJumps(witnesses, series.rows, places) : undefined;
  return {
    ...(jump ? { jump } : {}),
    group: {
      label: scans.label,
      polarity: scans.polarity,
      ms1_count: n,
      start_s: time_s[0] ?? 0,
      end_s: time_s[n - 1] ?? 0,
      interval_s,
      level_from: series.level_from,
      summed_over_stated: series.summed_over_stated,
      scatter: n >= 3 ? courseScatter(time_s, log) : null,
      scan_scatter: n >= 3 ? scatter.overall : null,
      injection_time,
      series: { time_s, level, injection_ms: series.injection_ms },
      rate,
      spray: spray?.reading ?? null,
      limits: spray?.limits ?? null,
      ...(stream && stream.ions.passages.length > 0 ? { ions: stream.ions } : {}),
    },
    series,
    log,
    scatter,
    events: spray?.events ?? levelOnly(series, log, found, index, witnesses !== undefined),
    spray,
    gaps: holes(time_s, interval_s),
    zeros,
    sag_floor: found.sag_floor,
    bare_start: found.bare_start,
  };
}

function courseScatter(time_s: readonly number[], log: Float64Array): number {
  const course = slowMedian(time_s, log, COURSE_S / 2, COURSE_SCANS);
  return madSigma(log.map((value, i) => value - course[i]!));
}

/** The group with the most scans; the first of equals. */
function mainGroup(groups: readonly RunGroup[]): number {
  let main = 0;
  for (let i = 1; i < groups.length; i++) {
    if (groups[i]!.ms1_count > groups[main]!.ms1_count) main = i;
  }
  return main;
}

/** True for holes in which no MS1 scan of another group stands either. */
function empty(record: RunRecord): (hole: Span) => boolean {
  const times = Float64Array.from(record.time_s.filter((time) => Number.isFinite(time))).sort();
  return (hole) => {
    const next = firstPast(times, (time) => time > hole.start_s);
    return !(times[next]! < hole.end_s);
  };
}
