/**
 * The ratio of a run to good runs over a span of its time, over its usual value, with two standard errors each way and the
 * events hatched. On a logarithmic scale: half and double stand equally far from 1, where a good run stays.
 */
import type { AgainstReading } from '../against/against-reading.ts';
import { BAND_ERRORS } from '../against/against-text.ts';
import type { RunReading } from '../run-reading.ts';
import { band, FACTOR_FRAME, FACTOR_HEIGHT, factorFrame } from './factor-frame.ts';
import { type Mark, type Picture, px, words } from './picture.ts';

const FACTORS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 1, 1.25, 2, 5, 10, 20, 50, 100];
const LEAST_REACH = Math.log(2.1);
const MOST_REACH = Math.log(100);
const ROOM = 1.1;
/** The whole title needs so much room. */
const TITLE_PX = 560;

/** Undefined where no reference could be used, or the span holds none of the ratio. */
export function againstPicture(
  against: AgainstReading,
  span: { from_s: number; to_s: number },
  width: number,
): Picture | undefined {
  const points = pointsOf(against, span);
  if (points.length < 2) return undefined;
  const reach = Math.min(MOST_REACH, Math.max(LEAST_REACH, ...points.map(({ log }) => ROOM * Math.abs(log))));
  const { inner, x, y, marks: frame } = factorFrame(span, width, { low: -reach, high: reach }, FACTORS);
  const { left, top } = FACTOR_FRAME;
  const short = `Ratio to the good ${against.references.filter(({ refused }) => refused === undefined).length === 1 ? 'run' : 'runs'}`;
  const title = `${short} by ${against.from}, over its usual value, with two standard errors each way`;
  const marks: Mark[] = [words(6, 20, width < TITLE_PX ? short : title)];
  for (const event of against.events) {
    const from = Math.max(x(event.start_s), left);
    const to = Math.min(x(event.end_s), left + inner.w);
    if (to <= from) continue;
    marks.push({
      shape: 'rect',
      at: {
        x: px(from),
        y: top,
        width: px(Math.max(2, to - from)),
        height: inner.h,
        fill: 'url(#q-event)',
      },
      tip: event.sentence,
    });
    marks.push({ shape: 'path', at: { d: `M${px(from)} ${top}v${inner.h}`, class: 'd-event' } });
    marks.push(
      words(from + 4, top + 14, event.kind === 'drift' ? 'slow change' : event.kind, {
        class: 'd-text-soft d-halo',
      }),
    );
  }
  marks.push(...frame);
  for (const piece of piecesOf(points)) {
    const at = (p: Point, log: number) => `${px(x(p.time_s))} ${px(y(log))}`;
    marks.push(
      band(
        piece.map((p) => at(p, p.log + p.half)),
        piece.map((p) => at(p, p.log - p.half)),
      ),
    );
    marks.push({
      shape: 'path',
      at: { d: `M${piece.map((p) => at(p, p.log)).join('L')}`, class: 'd-trace' },
    });
  }
  return {
    width,
    height: FACTOR_HEIGHT,
    title: [title, ...against.events.map(({ sentence }) => sentence)].join('. '),
    marks,
  };
}

/** The same over the whole of the run's main group. */
export function runAgainstPicture(
  reading: RunReading,
  against: AgainstReading,
  width: number,
): Picture | undefined {
  const group = reading.groups[reading.main_group];
  return group && againstPicture(against, { from_s: group.start_s, to_s: group.end_s }, width);
}

interface Point {
  at: number;
  time_s: number;
  log: number;
  half: number;
}

function pointsOf({ series }: AgainstReading, span: { from_s: number; to_s: number }): Point[] {
  const points: Point[] = [];
  series?.time_s.forEach((time_s, at) => {
    const log = series.log[at] ?? null;
    if (log === null || time_s < span.from_s || time_s > span.to_s) return;
    points.push({ at, time_s, log, half: BAND_ERRORS * (series.error[at] ?? 0) });
  });
  return points;
}

/** The pen lifts where a step has no value. */
function piecesOf(points: readonly Point[]): Point[][] {
  const pieces: Point[][] = [];
  for (const point of points) {
    const piece = pieces.at(-1);
    if (piece && point.at - piece.at(-1)!.at <= 1) piece.push(point);
    else pieces.push([point]);
  }
  return pieces;
}
