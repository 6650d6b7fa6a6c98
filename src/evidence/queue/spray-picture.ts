/**
 * The spray factor over a span of a run with its error band (two standard errors each way), thinned to the least and most
 * of each pixel column so that no dip vanishes. On a logarithmic scale: half and double stand equally far from 1.
 */
import type { RunGroup } from '../run-reading.ts';
import { band, FACTOR_FRAME, FACTOR_HEIGHT, factorFrame } from './factor-frame.ts';
import { type Mark, type Picture, px, words } from './picture.ts';

const BAND_ERRORS = 2;
/** Drawn at least so far either way [factor], so that a steady spray looks steady. */
const LEAST_REACH = 1.25;
const MOST_REACH = 100;
const ROOM = 1.1;
const FACTORS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.9, 1, 1.1, 1.25, 2, 5, 10, 20, 50, 100];
/** A hole longer than so many usual intervals lifts the pen. */
const LIFT_INTERVALS = 5;
const LIFT_LEAST_S = 3;

/** The whole title needs so much room. */
const TITLE_PX = 520;

/** Undefined where the group's spray was not followed. `from_s`, `to_s`: the span drawn. */
export function sprayPicture(
  group: RunGroup,
  span: { from_s: number; to_s: number },
  width: number,
): Picture | undefined {
  const { spray } = group;
  if (!spray) return undefined;
  const columns = columnsOf(
    group,
    span,
    Math.max(50, Math.floor(width - FACTOR_FRAME.left - FACTOR_FRAME.right)),
  );
  const { x, y, marks: frame } = factorFrame(span, width, rangeOf(columns), FACTORS);
  const title = `Spray factor by ${spray.from}, with two standard errors each way`;
  const marks: Mark[] = [words(6, 20, width < TITLE_PX ? `Spray factor by ${spray.from}` : title), ...frame];
  for (const piece of piecesOf(columns, Math.max(LIFT_LEAST_S, LIFT_INTERVALS * group.interval_s))) {
    const at = (c: Column, log: number) => `${px(x(c.time_s))} ${px(y(log))}`;
    marks.push(
      band(
        piece.map((c) => at(c, c.high)),
        piece.map((c) => at(c, c.low)),
      ),
    );
    const line = piece.map((c) => {
      const at = px(x(c.time_s));
      return c.least === c.most ? `${at} ${px(y(c.most))}` : `${at} ${px(y(c.most))}L${at} ${px(y(c.least))}`;
    });
    marks.push({ shape: 'path', at: { d: `M${line.join('L')}`, class: 'd-trace' } });
  }
  return { width, height: FACTOR_HEIGHT, title, marks };
}

interface Column {
  time_s: number;
  /** ln of the factor: least and most of the column, and the band around them. */
  least: number;
  most: number;
  low: number;
  high: number;
}

function columnsOf(group: RunGroup, span: { from_s: number; to_s: number }, count: number): Column[] {
  const { time_s } = group.series;
  const { factor, error } = group.spray!;
  const list: (Column & { at: number })[] = [];
  for (let i = 0; i < time_s.length; i++) {
    const time = time_s[i]!;
    const value = factor[i];
    if (time < span.from_s || time > span.to_s || value == null || !(value > 0)) continue;
    const at = Math.floor(((time - span.from_s) / (span.to_s - span.from_s)) * count);
    const log = Math.log(value);
    const half = BAND_ERRORS * (error[i] ?? 0);
    const last = list.at(-1);
    if (last && last.at === at) {
      last.least = Math.min(last.least, log);
      last.most = Math.max(last.most, log);
      last.low = Math.min(last.low, log - half);
      last.high = Math.max(last.high, log + half);
    } else list.push({ at, time_s: time, least: log, most: log, low: log - half, high: log + half });
  }
  return list;
}

/** Room for all of it up to MOST_REACH either way; what lies beyond is drawn at the edge. */
function rangeOf(columns: readonly Column[]): { low: number; high: number } {
  const least = Math.log(LEAST_REACH);
  const most = Math.log(MOST_REACH);
  let low = -least;
  let high = least;
  for (const column of columns) {
    low = Math.min(low, ROOM * column.least);
    high = Math.max(high, ROOM * column.most);
  }
  return { low: Math.max(-most, low), high: Math.min(most, high) };
}

function piecesOf(columns: readonly Column[], lift_s: number): Column[][] {
  const pieces: Column[][] = [];
  for (const column of columns) {
    const last = pieces.at(-1);
    if (last && column.time_s - last.at(-1)!.time_s <= lift_s) last.push(column);
    else pieces.push([column]);
  }
  return pieces;
}
