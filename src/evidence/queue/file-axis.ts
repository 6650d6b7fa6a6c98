/** Files of a queue across a picture: their places, and their numbers below as far as there is room. */
import { type Mark, px, roundStep, words } from './picture.ts';

export interface FileAxis {
  x(file: number): number;
  marks: Mark[];
}

/** Room a file's number takes [px]. */
const LABEL_PX = 90;

/** `left` and `wide` are the field's; the numbers stand on `baseline`. */
export function fileAxis(count: number, left: number, wide: number, baseline: number): FileAxis {
  const x = (file: number) => left + (count < 2 ? 0.5 : file / (count - 1)) * wide;
  const marks: Mark[] = [];
  const every = Math.max(1, Math.round(roundStep(count / Math.max(2, wide / LABEL_PX))));
  for (let i = 0; i < count; i += i === 0 && every > 1 ? every - 1 : every) {
    const text = i === 0 ? 'file 1' : String(i + 1);
    marks.push(words(x(i), baseline, text, { class: 'd-text-soft', 'text-anchor': 'middle' }));
  }
  return { x, marks };
}

/** A level line across the field with its name left of it. */
export function levelLine(at: number, name: string, left: number, wide: number): Mark[] {
  return [
    {
      shape: 'path',
      at: { d: `M${left} ${px(at)}h${px(wide)}`, class: 'd-dim', 'stroke-opacity': 0.35 },
    },
    words(left - 8, at + 5, name, { class: 'd-text-soft', 'text-anchor': 'end' }),
  ];
}
