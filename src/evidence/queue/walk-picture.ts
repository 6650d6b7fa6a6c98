/** A voltage walk drawn: level and scatter against voltage, each step with its range, up and down told apart by shape. */

import type { StepReading, WalkReading, WalkSweep } from '../walk.ts';
import { percentText } from '../words.ts';
import { type Mark, type Picture, px, roundStep, words } from './picture.ts';

const frame = { left: 84, right: 24, top: 40, bottom: 48 };
const PANEL = 200;

type Range = { value: number; low: number; high: number };

export function walkPicture(walk: WalkReading, width: number): Picture {
  const steps = walk.sweeps.flatMap((sweep) => sweep.steps);
  const at = walk.voltage_at === 'not stated' ? 'where measured is not stated' : `at the ${walk.voltage_at}`;
  const title = `Voltage walk (voltage ${at}): level above, scatter below; circles going up, squares going down`;
  const marks: Mark[] = [words(6, 20, title)];
  if (steps.length === 0) return { width, height: 60, title, marks };
  const low_V = Math.min(...steps.map((step) => step.voltage_V));
  const high_V = Math.max(...steps.map((step) => step.voltage_V), low_V + 1);
  const inner = width - frame.left - frame.right;
  const x = (voltage: number) => frame.left + (0.03 + (0.94 * (voltage - low_V)) / (high_V - low_V)) * inner;
  const short = (value: number) => (value === 0 ? '0' : value.toExponential(1).replace('e+', 'e'));
  panel(marks, walk.sweeps, x, {
    top: frame.top,
    inner,
    of: (step) => step.level,
    text: short,
    name: 'level',
  });
  const second = frame.top + PANEL + 30;
  panel(marks, walk.sweeps, x, {
    top: second,
    inner,
    of: (step) => step.scatter,
    text: percentText,
    name: 'scatter',
  });
  const bottom = second + PANEL;
  const step = roundStep((high_V - low_V) / Math.max(1, inner / 90));
  for (let tick = Math.ceil(low_V / step) * step; tick <= high_V; tick += step) {
    marks.push(words(x(tick), bottom + 22, `${tick} V`, { class: 'd-text-soft', 'text-anchor': 'middle' }));
  }
  return { width, height: bottom + frame.bottom, title, marks };
}

interface Panel {
  top: number;
  inner: number;
  of: (step: StepReading) => Range | null;
  text: (value: number) => string;
  name: string;
}

function panel(marks: Mark[], sweeps: readonly WalkSweep[], x: (v: number) => number, part: Panel): void {
  const ranges = sweeps.flatMap((sweep) => sweep.steps.flatMap((step) => part.of(step) ?? []));
  const most = 1.06 * Math.max(1e-300, ...ranges.map((range) => range.high));
  const y = (value: number) => part.top + PANEL * (1 - Math.min(value, most) / most);
  const step = roundStep(most / 4);
  for (let tick = 0; tick <= most; tick += step) {
    marks.push({
      shape: 'path',
      at: { d: `M${frame.left} ${px(y(tick))}h${px(part.inner)}`, class: 'd-dim', 'stroke-opacity': 0.35 },
    });
    marks.push(
      words(frame.left - 8, y(tick) + 5, part.text(tick), { class: 'd-text-soft', 'text-anchor': 'end' }),
    );
  }
  marks.push(words(frame.left + 6, part.top + 14, part.name, { class: 'd-text-soft' }));
  for (const sweep of sweeps) {
    let path = '';
    for (const one of sweep.steps) {
      const range = part.of(one);
      if (!range) continue;
      const at = { x: px(x(one.voltage_V)), y: px(y(range.value)) };
      path += `${path === '' ? 'M' : 'L'}${at.x} ${at.y}`;
      marks.push({
        shape: 'path',
        at: { d: `M${at.x} ${px(y(range.low))}V${px(y(range.high))}`, class: 'd-ink' },
      });
      const tip = `${one.voltage_V} V, ${sweep.direction}: ${one.state}, ${part.name} ${part.text(range.value)}`;
      marks.push(
        sweep.direction === 'up'
          ? {
              shape: 'circle',
              at: { cx: at.x, cy: at.y, r: 5, class: one.state === 'steady' ? 'd-glyph' : 'd-event' },
              tip,
            }
          : {
              shape: 'rect',
              at: {
                x: at.x - 5,
                y: at.y - 5,
                width: 10,
                height: 10,
                class: one.state === 'steady' ? 'd-glyph' : 'd-event',
              },
              tip,
            },
      );
    }
    if (path !== '')
      marks.push({
        shape: 'path',
        at: { d: path, class: sweep.direction === 'up' ? 'd-trace' : 'd-composed' },
      });
  }
  marks.push(words(frame.left + 70, part.top + 14, 'filled: steady', { class: 'd-text-soft' }));
}
