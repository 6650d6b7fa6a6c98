/**
 * The ratio of a run to good runs over a span of its time, over its usual value, with two standard errors each way and the
 * events hatched. On a logarithmic scale: half and double stand equally far from 1, where a good run stays.
 */
import type { AgainstReading } from '../against/against-reading.ts';
import { BAND_ERRORS } from '../against/against-text.ts';
import { type Mark, type Picture, px, roundStep, words } from './picture.ts';

/** As the picture of the spray, so that both stand under each other in one time. */
const frame = { left: 84, right: 28, top: 34, bottom: 34 };
const HEIGHT = 200;
const FACTORS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 1, 1.25, 2, 5, 10, 20, 50, 100];
const LEAST_REACH = Math.log(2.1);
const MOST_REACH = Math.log(100);
const ROOM = 1.1;
const LABEL_PX = 16;
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
  const inner = { w: Math.max(50, width - frame.left - frame.right), h: HEIGHT - frame.top - frame.bottom };
  const reach = Math.min(MOST_REACH, Math.max(LEAST_REACH, ...points.map(({ log }) => ROOM * Math.abs(log))));
  const x = (time_s: number) => frame.left + ((time_s - span.from_s) / (span.to_s - span.from_s)) * inner.w;
  const y = (log: number) =>
    frame.top + (inner.h * (reach - Math.max(-reach, Math.min(reach, log)))) / (2 * reach);
  const short = `Ratio to the good ${against.references.filter(({ refused }) => refused === undefined).length === 1 ? 'run' : 'runs'}`;
  const title = `${short} by ${against.from}, over its usual value, with two standard errors each way`;
  const marks: Mark[] = [words(6, 20, width < TITLE_PX ? short : title)];
  for (const event of against.events) {
    const from = Math.max(x(event.start_s), frame.left);
    const to = Math.min(x(event.end_s), frame.left + inner.w);
    if (to <= from) continue;
    marks.push({
      shape: 'rect',
      at: {
        x: px(from),
        y: frame.top,
        width: px(Math.max(2, to - from)),
        height: inner.h,
        fill: 'url(#q-event)',
      },
      tip: event.sentence,
    });
    marks.push({ shape: 'path', at: { d: `M${px(from)} ${frame.top}v${inner.h}`, class: 'd-event' } });
    marks.push(
      words(from + 4, frame.top + 14, event.kind === 'drift' ? 'slow change' : event.kind, {
        class: 'd-text-soft d-halo',
      }),
    );
  }
  let last = Number.POSITIVE_INFINITY;
  for (const factor of FACTORS) {
    const at = y(Math.log(factor));
    if (Math.abs(Math.log(factor)) > reach || last - at < LABEL_PX) continue;
    // 1 is always there: what stands too close to it gives way.
    if (factor !== 1 && Math.abs(at - y(0)) < LABEL_PX) continue;
    last = at;
    marks.push({
      shape: 'path',
      at: {
        d: `M${frame.left} ${px(at)}h${px(inner.w)}`,
        class: 'd-dim',
        'stroke-opacity': factor === 1 ? 0.9 : 0.35,
      },
    });
    marks.push(words(frame.left - 8, at + 5, String(factor), { class: 'd-text-soft', 'text-anchor': 'end' }));
  }
  const step = roundStep((span.to_s - span.from_s) / 60 / (inner.w / 110));
  for (let m = Math.ceil(span.from_s / 60 / step) * step; m * 60 <= span.to_s; m += step) {
    marks.push(
      words(x(m * 60), HEIGHT - 10, `${Number(m.toPrecision(6))} min`, {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
  }
  for (const piece of piecesOf(points)) {
    const above = piece.map((p) => `${px(x(p.time_s))} ${px(y(p.log + p.half))}`);
    const below = piece.map((p) => `${px(x(p.time_s))} ${px(y(p.log - p.half))}`).reverse();
    marks.push({ shape: 'path', at: { d: `M${[...above, ...below].join('L')}Z`, class: 'd-liquid' } });
    marks.push({
      shape: 'path',
      at: { d: `M${piece.map((p) => `${px(x(p.time_s))} ${px(y(p.log))}`).join('L')}`, class: 'd-trace' },
    });
  }
  return {
    width,
    height: HEIGHT,
    title: [title, ...against.events.map(({ sentence }) => sentence)].join('. '),
    marks,
  };
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
