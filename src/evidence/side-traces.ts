/**
 * Pump pressure and flow as the run file holds them beside its scans: range, trend, and whether one of them moved while
 * an event lasted. The middle of the trace inside an event is held against the middles on both sides of it, and that
 * difference against what the same trace shows at other places of the same length, so a course that wanders or follows
 * the gradient raises the threshold by itself.
 * Breaks where an event takes more than a tenth of the trace: then nothing is said. The pump stands far from the tip: normal
 * pressure says nothing about a plug there (judgement; the tip's share of the pressure is small where a column stands before it).
 */
import { madSigma, median } from '../core/numeric/robust.ts';
import type { RunRecord } from '../formats/run-record.ts';
import type { RunEvent, SideTrace } from './run-reading.ts';
import { firstPast } from './within-times.ts';
import { capital, percentText } from './words.ts';

/** A change is told from so many sigmas of the trace's own wander on, and from this share of its level. Judgement. */
const TOLD_SIGMAS = 5;
const TOLD_SHARE = 0.03;
/** Sides of an event: as long as it, within these [s]. */
const SIDE_S = { least: 10, most: 60 };
/** Points that a middle rests on at least; places at which the wander is measured. */
const LEAST_POINTS = 3;
const LEAST_PLACES = 20;
const PLACES = 200;
/** Least and most of so many columns are kept: enough for a strip on a page. */
const COLUMNS = 500;
/** Share of the points at each end that tell the trend, and a trend that is none. Judgement. */
const END_SHARE = 0.1;
const LEVEL_SHARE = 0.03;

interface Course {
  time_s: number[];
  value: number[];
}

export interface TraceCourse {
  name: string;
  unit: string;
  course: Course;
}

export function traceCourses(record: RunRecord): TraceCourse[] {
  return record.traces.map(({ name, unit, ...trace }) => ({ name, unit, course: courseOf(trace) }));
}

export function sideTraces(courses: readonly TraceCourse[]): SideTrace[] {
  return courses.flatMap(({ name, unit, course }) => {
    const { value } = course;
    if (value.length === 0) return [];
    let [low, high] = [value[0]!, value[0]!];
    for (const one of value) {
      low = Math.min(low, one);
      high = Math.max(high, one);
    }
    const middle = median(value);
    const end = Math.max(1, Math.floor(END_SHARE * value.length));
    const change = middle > 0 ? (median(value.slice(-end)) - median(value.slice(0, end))) / middle : null;
    const unit_said = unit === '' ? 'unit not stated' : unit;
    return [
      {
        name,
        unit,
        points: value.length,
        low,
        high,
        median: middle,
        change,
        series: thinned(course),
        sentence: `${capital(name)} in the file (${unit_said}): ${figure(low)} to ${figure(high)}, middle ${figure(middle)}; ${trendText(change)}.`,
      } satisfies SideTrace,
    ];
  });
}

/** The events, each with what pressure or flow did meanwhile where they moved. */
export function besideTraces(events: readonly RunEvent[], courses: readonly TraceCourse[]): RunEvent[] {
  if (courses.length === 0 || events.length === 0) return [...events];
  return events.map((event) => {
    const beside = courses.flatMap(({ name, course }) => {
      const moved = movedBy(course, event);
      return moved === null ? [] : [words(name, moved)];
    });
    return beside.length === 0 ? event : { ...event, beside };
  });
}

/** Share by which the trace differs inside an event; null where it does not, or where that cannot be told. */
export function movedBy(
  { time_s, value }: Course,
  { kind, start_s, end_s }: Pick<RunEvent, 'kind' | 'start_s' | 'end_s'>,
): number | null {
  const first_s = time_s[0];
  const last_s = time_s.at(-1);
  if (first_s === undefined || last_s === undefined) return null;
  // What does not come back is looked at where it begins.
  const lasting = kind === 'signal lost at the end' || kind === 'level lost' || kind === 'step';
  const length_s = lasting ? SIDE_S.most : Math.max(end_s - start_s, SIDE_S.least);
  if (length_s > (last_s - first_s) / 10) return null;
  const side_s = Math.min(SIDE_S.most, length_s);
  const from_s = lasting ? start_s : (start_s + end_s - length_s) / 2;
  const differs = (at_s: number): number | null => {
    const inside = middleOf(time_s, value, at_s, at_s + length_s);
    const before = middleOf(time_s, value, at_s - side_s, at_s);
    const after = lasting ? before : middleOf(time_s, value, at_s + length_s, at_s + length_s + side_s);
    return inside === null || before === null || after === null ? null : inside - (before + after) / 2;
  };
  const here = differs(from_s);
  const level = middleOf(time_s, value, from_s - side_s, from_s);
  if (here === null || level === null || !(level > 0)) return null;
  const elsewhere: number[] = [];
  for (let k = 0; k < PLACES; k++) {
    const at_s = first_s + side_s + (k / PLACES) * (last_s - first_s - length_s - 2 * side_s);
    if (at_s + length_s + side_s > start_s && at_s - side_s < from_s + length_s) continue;
    const one = differs(at_s);
    if (one !== null) elsewhere.push(one);
  }
  if (elsewhere.length < LEAST_PLACES) return null;
  const share = here / level;
  const off = here - median(elsewhere);
  return Math.abs(off) >= TOLD_SIGMAS * madSigma(elsewhere) && Math.abs(share) >= TOLD_SHARE ? share : null;
}

function words(name: string, share: number): string {
  const what = `${capital(name)} ${share < 0 ? 'fell' : 'rose'} by ${percentText(Math.abs(share))} meanwhile`;
  if (!name.startsWith('pressure')) return `${what}: the liquid that reached the tip changed.`;
  return share < 0
    ? `${what}: speaks for a leak, air in the line or a pump that fell short.`
    : `${what}: speaks for something that narrows the line, column or tip.`;
}

function middleOf(
  time_s: readonly number[],
  value: readonly number[],
  from_s: number,
  to_s: number,
): number | null {
  const first = firstPast(time_s, (time) => time >= from_s);
  const past = firstPast(time_s, (time) => time >= to_s);
  return past - first < LEAST_POINTS ? null : median(value.slice(first, past));
}

/** Points with a number in both, in the order of time. */
function courseOf(trace: { time_s: ArrayLike<number>; value: ArrayLike<number> }): Course {
  const at: number[] = [];
  let ordered = true;
  for (let i = 0; i < trace.time_s.length; i++) {
    if (!Number.isFinite(trace.time_s[i]!) || !Number.isFinite(trace.value[i]!)) continue;
    if (at.length > 0 && trace.time_s[i]! < trace.time_s[at.at(-1)!]!) ordered = false;
    at.push(i);
  }
  if (!ordered) at.sort((a, b) => trace.time_s[a]! - trace.time_s[b]!);
  return { time_s: at.map((i) => trace.time_s[i]!), value: at.map((i) => trace.value[i]!) };
}

function thinned({ time_s, value }: Course): SideTrace['series'] {
  if (value.length <= 2 * COLUMNS) return { time_s, value };
  const kept: number[] = [];
  for (let c = 0; c < COLUMNS; c++) {
    const past = Math.floor(((c + 1) * value.length) / COLUMNS);
    let least = Math.floor((c * value.length) / COLUMNS);
    let most = least;
    for (let i = least; i < past; i++) {
      if (value[i]! < value[least]!) least = i;
      if (value[i]! > value[most]!) most = i;
    }
    kept.push(...(least === most ? [least] : [Math.min(least, most), Math.max(least, most)]));
  }
  return { time_s: kept.map((i) => time_s[i]!), value: kept.map((i) => value[i]!) };
}

function trendText(change: number | null): string {
  if (change === null) return 'no trend, since its middle is not above zero';
  if (Math.abs(change) < LEVEL_SHARE)
    return `as high at the end as at the start, within ${percentText(LEVEL_SHARE)}`;
  return `${change < 0 ? 'lower' : 'higher'} by ${percentText(Math.abs(change))} in its last tenth than in its first`;
}

function figure(value: number): string {
  return String(Number(value.toPrecision(4)));
}
