/**
 * The frame of a picture of factors over run time: lines at round factors on a logarithmic scale, with 1 always among them, and
 * minutes below. Pictures with this frame stand under each other in one time.
 */
import { type Mark, px, roundStep, words } from './picture.ts';

export const FACTOR_FRAME = { left: 84, right: 28, top: 34, bottom: 34 } as const;
export const FACTOR_HEIGHT = 200;
/** Heights between labelled lines [px]. */
const LABEL_PX = 16;
/** Width a label of minutes takes [px]. */
const MINUTES_PX = 110;

export interface FactorFrame {
  inner: { w: number; h: number };
  x(time_s: number): number;
  /** Of ln factor, held within the range. */
  y(log: number): number;
  /** Lines of the factors and minutes. */
  marks: Mark[];
}

/** `range` of ln factor; of `factors`, rising, those that have room are drawn. */
export function factorFrame(
  span: { from_s: number; to_s: number },
  width: number,
  range: { low: number; high: number },
  factors: readonly number[],
): FactorFrame {
  const { left, right, top, bottom } = FACTOR_FRAME;
  const inner = { w: Math.max(50, width - left - right), h: FACTOR_HEIGHT - top - bottom };
  const x = (time_s: number) => left + ((time_s - span.from_s) / (span.to_s - span.from_s)) * inner.w;
  const y = (log: number) => {
    const held = Math.max(range.low, Math.min(range.high, log));
    return top + (inner.h * (range.high - held)) / (range.high - range.low);
  };
  const marks: Mark[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const factor of factors) {
    const log = Math.log(factor);
    const at = y(log);
    if (log < range.low || log > range.high || Math.abs(at - last) < LABEL_PX) continue;
    // 1 is always there: what stands too close to it gives way.
    if (factor !== 1 && Math.abs(at - y(0)) < LABEL_PX) continue;
    last = at;
    marks.push({
      shape: 'path',
      at: {
        d: `M${left} ${px(at)}h${px(inner.w)}`,
        class: 'd-dim',
        'stroke-opacity': factor === 1 ? 0.9 : 0.35,
      },
    });
    marks.push(words(left - 8, at + 5, String(factor), { class: 'd-text-soft', 'text-anchor': 'end' }));
  }
  const step = roundStep((span.to_s - span.from_s) / 60 / (inner.w / MINUTES_PX));
  for (let m = Math.ceil(span.from_s / 60 / step) * step; m * 60 <= span.to_s; m += step) {
    marks.push(
      words(x(m * 60), FACTOR_HEIGHT - 10, `${Number(m.toPrecision(6))} min`, {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
  }
  return { inner, x, y, marks };
}

/** A band between two courses, drawn closed. */
export function band(above: readonly string[], below: readonly string[]): Mark {
  return {
    shape: 'path',
    at: { d: `M${[...above, ...[...below].reverse()].join('L')}Z`, class: 'd-liquid' },
  };
}
