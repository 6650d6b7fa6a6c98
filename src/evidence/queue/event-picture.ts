/** Events of a queue: files across, run time up. What comes back at one run time stands in a line, what is random does not. */
import { fileAxis, levelLine } from './file-axis.ts';
import { type Mark, type Picture, px, roundStep, words } from './picture.ts';
import type { QueueReport } from './report-types.ts';

const FRAME = { left: 66, right: 20, top: 62, bottom: 34 };
const HEIGHT = 250;
/** From this width on the heading stands in one line. */
const ONE_LINE_PX = 640;
const RING_PX = 4;
const CROSS_PX = 4.5;

/** Undefined where no file has such an event. */
export function eventPicture({ files, recurring }: QueueReport, width: number): Picture | undefined {
  if (recurring.recurring.length === 0 && recurring.own.length === 0) return undefined;
  const end_s = Math.max(...files.map(({ summary }) => summary?.end_s ?? 0));
  const inner = { w: width - FRAME.left - FRAME.right, h: HEIGHT - FRAME.top - FRAME.bottom };
  const { x, marks: numbers } = fileAxis(files.length, FRAME.left, inner.w, HEIGHT - 10);
  const y = (time_s: number) => FRAME.top + inner.h * (1 - time_s / end_s);
  const heading = ['Run time of events [min], file by file', 'rings come back, crosses stand alone'];
  const told = width >= ONE_LINE_PX ? [heading.join('; ')] : heading;
  const marks: Mark[] = told.map((line, i) => words(6, 20 + 20 * i, line));
  const step_min = roundStep(end_s / 60 / 4);
  for (let min = 0; min * 60 <= end_s; min += step_min) {
    marks.push(...levelLine(y(60 * min), String(Number(min.toPrecision(6))), FRAME.left, inner.w));
  }
  marks.push(...numbers);
  for (const { time_s, files: held } of recurring.recurring) {
    marks.push({
      shape: 'path',
      at: { d: `M${FRAME.left} ${px(y(time_s))}h${px(inner.w)}`, class: 'd-composed' },
    });
    for (const file of held)
      marks.push({
        shape: 'circle',
        at: { cx: px(x(file)), cy: px(y(time_s)), r: RING_PX, class: 'd-trace' },
        tip: files[file]!.name,
      });
  }
  for (const { file, time_s, kind } of recurring.own) {
    const [cx, cy] = [x(file), y(time_s)];
    const d = `M${px(cx - CROSS_PX)} ${px(cy - CROSS_PX)}l${2 * CROSS_PX} ${2 * CROSS_PX}m0 ${-2 * CROSS_PX}l${-2 * CROSS_PX} ${2 * CROSS_PX}`;
    marks.push({ shape: 'path', at: { d, class: 'd-event' }, tip: `${files[file]!.name}: ${kind}` });
  }
  const title = `Run time of events over the files: ${recurring.recurring_events} come back at the same run time, ${recurring.random_events} stand alone`;
  return { width, height: HEIGHT, title, marks };
}
