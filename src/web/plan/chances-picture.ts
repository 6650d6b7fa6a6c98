/**
 * The chances with a key under them: on a narrow picture a band may be too thin for its name, so every band is named beside a
 * swatch of its own filling. A voltage that is not advised is not called so.
 */
import { type Mark, type Picture, px, words } from '../../core/picture.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { windowPicture } from '../../core/plan/plan-pictures.ts';
import { noneAdvised } from './advice.ts';

const SWATCH_PX = 16;
/** Generous width of a letter of the labels. */
const LETTER_PX = 8.2;
const LINE_PX = 26;
const LEFT = 12;
const ADVISED = /^advised /;

export function chancesPicture(plan: Plan, width: number, isPending = false): Picture {
  const picture = windowPicture(plan, width);
  const none = isPending || noneAdvised(plan) !== undefined;
  const marks = picture.marks.map((mark) =>
    none && mark.text !== undefined && ADVISED.test(mark.text)
      ? { ...mark, text: mark.text.replace(ADVISED, 'most likely ') }
      : mark,
  );
  const { marks: key, height } = keyOf(
    marks.filter(({ shape, tip }) => shape === 'path' && tip !== undefined),
    width,
    picture.height,
  );
  // Words last: a band drawn after another's name would cover it.
  const isWord = ({ shape }: Mark) => shape === 'text';
  const inside = [...marks.filter((mark) => !isWord(mark)), ...marks.filter(isWord)];
  return { ...picture, height, marks: [...inside, ...key] };
}

/** One entry for each band: its filling and its name (the band's own tip), in lines that fit the width. */
function keyOf(bands: readonly Mark[], width: number, top: number): { marks: Mark[]; height: number } {
  const marks: Mark[] = [];
  let x = LEFT;
  let y = top;
  for (const { at, tip } of bands) {
    const name = tip ?? '';
    const wide = SWATCH_PX + 8 + name.length * LETTER_PX + 14;
    if (x > LEFT && x + wide > width) {
      x = LEFT;
      y += LINE_PX;
    }
    const box = `M${px(x)} ${px(y)}h${SWATCH_PX}v${SWATCH_PX}h${-SWATCH_PX}Z`;
    const filling: Mark['at'] = { d: box };
    if (at.class !== undefined) filling.class = at.class;
    if (at.fill !== undefined) filling.fill = at.fill;
    marks.push({ shape: 'path', at: filling });
    marks.push({ shape: 'path', at: { d: box, class: 'd-dim' } });
    marks.push(words(x + SWATCH_PX + 8, y + SWATCH_PX - 2, name, { class: 'd-text-soft' }));
    x += wide;
  }
  return { marks, height: y + SWATCH_PX + 10 };
}
