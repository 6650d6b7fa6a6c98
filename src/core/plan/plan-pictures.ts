/** The plan drawn: chances over voltage, apex height against voltage, the window along the gradient. */
import type { GradientPlan } from '../gradient/index.ts';
import { type Mark, type Picture, px, roundStep, words } from '../picture.ts';
import type { Plan } from './plan.ts';

const LEFT = 56;
const RIGHT = 14;
const TOP = 14;
const BOTTOM = 44;

interface Axes {
  x: (value: number) => number;
  y: (value: number) => number;
  width: number;
  height: number;
}

/** Stacked chances of each state over the tip's voltage; words in the bands, patterns that read without colour. */
export function windowPicture(plan: Plan, width: number, height = 260): Picture {
  const { window } = plan;
  const volts = window.voltage_V;
  const axes = axesOf(width, height, [volts[0]!, volts.at(-1)!], [0, 1]);
  const bands: [string, readonly number[], string][] = [
    ['below onset', window.below_onset, ''],
    ['pulsating', window.pulsating, 'url(#q-event)'],
    ['steady cone-jet', window.steady, 'solid'],
    ['tilted', window.tilted, 'url(#q-kept)'],
    ['several jets', window.several_jets, 'url(#q-dots)'],
    ['discharge', window.discharge, 'pale'],
  ];
  const marks: Mark[] = [];
  const floor = volts.map(() => 0);
  const advised = axes.x(plan.advised_V.value);
  const taken: Box[] = [{ left: advised, right: advised + 120, top: 0, bottom: TOP + 20 }];
  for (const [name, shares, fill] of bands) {
    const roof = floor.map((low, k) => low + shares[k]!);
    marks.push(...band(axes, volts, floor, roof, fill, name, taken));
    roof.forEach((high, k) => {
      floor[k] = high;
    });
  }
  marks.push(...frame(axes, volts, 'tip voltage, V', ['0', '50 %', '100 %'], [0, 0.5, 1]));
  marks.push(...upright(axes, plan.advised_V.value, `advised ${Math.round(plan.advised_V.value)} V`));
  return {
    width,
    height,
    title: `Chances over the tip's voltage; best ${Math.round(window.best_V)} V, steady in ${Math.round(100 * window.best_probability)} %`,
    marks,
  };
}

/** Height of the apex against voltage, up to the turning point. Only where the meniscus was solved. */
export function curvePicture(plan: Plan, width: number, height = 260): Picture | undefined {
  const { meniscus } = plan;
  if (meniscus.kind !== 'solved') return undefined;
  const { curve } = meniscus;
  const highest = Math.max(...curve.map(({ apex_height_um }) => apex_height_um));
  const lowest = Math.min(0, ...curve.map(({ apex_height_um }) => apex_height_um));
  const volts: [number, number] = [0, meniscus.onset_V * 1.15];
  const axes = axesOf(width, height, volts, [lowest, highest * 1.1]);
  const d = curve
    .map(
      ({ tip_V, apex_height_um }, k) =>
        `${k === 0 ? 'M' : 'L'}${px(axes.x(tip_V))} ${px(axes.y(apex_height_um))}`,
    )
    .join('');
  const step = roundStep((highest - lowest) / 4);
  const levels = Array.from({ length: Math.floor((highest * 1.1) / step) + 1 }, (_, k) => k * step);
  const turn = { x: axes.x(meniscus.onset_V), y: axes.y(meniscus.onset_apex_height_um) };
  return {
    width,
    height,
    title: `Apex height against tip voltage: turns at ${Math.round(meniscus.onset_V)} V, ${meniscus.onset_apex_height_um.toPrecision(3)} µm high`,
    marks: [
      ...frame(
        axes,
        volts,
        'tip voltage, V (no feed pressure)',
        levels.map((l) => `${Number(l.toPrecision(3))}`),
        levels,
      ),
      words(LEFT + 4, TOP + 14, 'apex height, µm', { class: 'd-text-soft' }),
      { shape: 'path', at: { d, class: 'd-trace' } },
      { shape: 'circle', at: { cx: px(turn.x), cy: px(turn.y), r: 5, class: 'd-glyph' } },
      words(turn.x - 8, turn.y - 10, 'turning point', { 'text-anchor': 'end' }),
    ],
  };
}

/** The window at the supply along time with the fixed voltage, the ramp and the minutes at risk. */
export function gradientPicture(gradient: GradientPlan, width: number, height = 320): Picture {
  const times = gradient.times_min;
  const top = Math.max(
    ...gradient.supply_to_V.middle.map((v, k) => Math.min(v, gradient.ceiling_V[k]!)),
    gradient.judged.supply_V,
    ...gradient.ramp.steps.map((s) => s.supply_V),
  );
  const bottom = Math.min(
    ...gradient.supply_from_V.low,
    gradient.judged.supply_V || Number.POSITIVE_INFINITY,
  );
  const axes = axesOf(width, height - 24, [times[0]!, times.at(-1)!], [bottom * 0.9, top * 1.12]);
  const clip = (values: readonly number[]) =>
    values.map((v) => Math.min(top * 1.12, Math.max(bottom * 0.9, v)));
  const marks: Mark[] = [
    ...band(
      axes,
      times,
      clip(gradient.supply_from_V.middle),
      clip(gradient.supply_to_V.middle.map((v, k) => Math.max(v, gradient.supply_from_V.middle[k]!))),
      'solid',
      'steady between these',
      [],
    ),
    line(axes, times, clip(gradient.supply_from_V.high), 'd-dim'),
    line(axes, times, clip(gradient.supply_to_V.low), 'd-dim'),
  ];
  const step = roundStep((top * 1.12 - bottom * 0.9) / 5);
  const first = Math.ceil((bottom * 0.9) / step) * step;
  const levels = Array.from(
    { length: Math.floor((top * 1.12 - first) / step) + 1 },
    (_, k) => first + k * step,
  );
  marks.push(
    ...frame(
      axes,
      [times[0]!, times.at(-1)!],
      'minutes at the tip',
      levels.map((l) => `${Math.round(l)}`),
      levels,
    ),
  );
  marks.push(words(LEFT + 4, TOP + RISK_PX + 16, 'supply, V', { class: 'd-text-soft d-halo' }));
  if (gradient.judged.which !== 'none') {
    const y = px(axes.y(gradient.judged.supply_V));
    marks.push({ shape: 'path', at: { d: `M${LEFT} ${y}H${width - RIGHT}`, class: 'd-ink' } });
    marks.push(
      words(width - RIGHT - 4, y - 6, `${gradient.judged.which} ${Math.round(gradient.judged.supply_V)} V`, {
        'text-anchor': 'end',
      }),
    );
  }
  const ramp = gradient.ramp.steps.map(
    ({ time_min, until_min, supply_V }, k) =>
      `${k === 0 ? 'M' : 'L'}${px(axes.x(time_min))} ${px(axes.y(supply_V))}L${px(axes.x(until_min))} ${px(axes.y(supply_V))}`,
  );
  if (ramp.length > 0) {
    marks.push({ shape: 'path', at: { d: ramp.join(''), class: 'd-composed', fill: 'none' } });
    const last = gradient.ramp.steps.at(-1)!;
    marks.push(
      words(axes.x(last.until_min) - 4, axes.y(last.supply_V) + 18, 'ramp', { 'text-anchor': 'end' }),
    );
  }
  const foot = height - 14;
  for (const part of [gradient.elution, gradient.wash])
    if (part !== undefined) {
      marks.push({
        shape: 'path',
        at: {
          d: `M${px(axes.x(part.start_min))} ${foot - 12}v6H${px(axes.x(part.end_min))}v-6`,
          class: 'd-dim',
        },
      });
      marks.push(
        words(
          (axes.x(part.start_min) + axes.x(part.end_min)) / 2,
          foot + 10,
          part === gradient.wash ? 'wash' : 'elution',
          { class: 'd-text-soft', 'text-anchor': 'middle' },
        ),
      );
    }
  for (const risk of gradient.risks) {
    const from = px(axes.x(risk.start_min));
    const wide = px(Math.max(2, axes.x(risk.end_min) - axes.x(risk.start_min)));
    const at = { x: from, y: TOP, width: wide, height: RISK_PX };
    marks.push({ shape: 'rect', at: { ...at, fill: RISK_FILLS[risk.kind] }, tip: risk.sentence });
    marks.push({ shape: 'path', at: { d: `M${from} ${TOP}h${wide}v${RISK_PX}h${-wide}Z`, class: 'd-dim' } });
  }
  return {
    width,
    height,
    title:
      'Supply window along the gradient with the fixed voltage and the ramp; hatched above: minutes at risk',
    marks,
  };
}

const RISK_PX = 10;
const RISK_FILLS: Record<GradientPlan['risks'][number]['kind'], string> = {
  'drips or pulsates': 'url(#q-event)',
  'tilt or several jets': 'url(#q-kept)',
  discharge: 'url(#q-kept)',
  'below minimum flow': 'url(#q-dots)',
};

function axesOf(
  width: number,
  height: number,
  x: readonly [number, number],
  y: readonly [number, number],
): Axes {
  const scale =
    ([low, high]: readonly [number, number], from: number, to: number) =>
    (value: number) =>
      from + ((value - low) / (high - low || 1)) * (to - from);
  return { width, height, x: scale(x, LEFT, width - RIGHT), y: scale(y, height - BOTTOM, TOP) };
}

function band(
  axes: Axes,
  at: readonly number[],
  floor: readonly number[],
  roof: readonly number[],
  fill: string,
  name: string,
  taken: Box[],
): Mark[] {
  const up = at.map((v, k) => `${k === 0 ? 'M' : 'L'}${px(axes.x(v))} ${px(axes.y(roof[k]!))}`);
  const down = at.map((v, k) => `L${px(axes.x(v))} ${px(axes.y(floor[k]!))}`).reverse();
  const shape: Mark = { shape: 'path', at: { d: `${up.join('')}${down.join('')}Z` }, tip: name };
  if (fill === 'solid') shape.at.class = 'd-liquid';
  else if (fill === 'pale') shape.at.class = 'd-solid';
  else shape.at.fill = fill === '' ? 'none' : fill;
  const outline: Mark = { shape: 'path', at: { d: up.join(''), class: 'd-dim' } };
  const label = labelPlace(axes, at, floor, roof, name, taken);
  if (label === undefined) return [shape, outline];
  return [shape, outline, words(label.x, label.y, name, { 'text-anchor': 'middle', class: 'd-text d-halo' })];
}

/** The thickest place of a band where its name fits and covers no other name; undefined where there is none. */
function labelPlace(
  axes: Axes,
  at: readonly number[],
  floor: readonly number[],
  roof: readonly number[],
  name: string,
  taken: Box[],
): { x: number; y: number } | undefined {
  const half = (name.length * LETTER_PX) / 2;
  const order = at.map((_, k) => k).sort((a, b) => roof[b]! - floor[b]! - (roof[a]! - floor[a]!));
  for (const k of order) {
    if (axes.y(floor[k]!) - axes.y(roof[k]!) < LEAST_LABEL_PX) return undefined;
    const x = axes.x(at[k]!);
    const y = (axes.y(floor[k]!) + axes.y(roof[k]!)) / 2 + 5;
    const box = {
      left: x - half,
      right: x + half,
      top: y - LEAST_LABEL_PX / 2 - 5,
      bottom: y + LEAST_LABEL_PX / 2 - 5,
    };
    const outside = box.left < LEFT || box.right > axes.width - RIGHT;
    const covered = taken.some(
      (b) => box.left < b.right && b.left < box.right && box.top < b.bottom && b.top < box.bottom,
    );
    if (outside || covered) continue;
    taken.push(box);
    return { x, y };
  }
  return undefined;
}

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}
const LETTER_PX = 8.5;
const LEAST_LABEL_PX = 22;

function line(axes: Axes, at: readonly number[], values: readonly number[], name: string): Mark {
  const d = at.map((v, k) => `${k === 0 ? 'M' : 'L'}${px(axes.x(v))} ${px(axes.y(values[k]!))}`).join('');
  return { shape: 'path', at: { d, class: name } };
}

function upright(axes: Axes, at: number, label: string): Mark[] {
  const x = px(axes.x(at));
  return [
    { shape: 'path', at: { d: `M${x} ${TOP}V${axes.height - BOTTOM}`, class: 'd-ink' } },
    words(x + 6, TOP + 14, label, { class: 'd-text d-halo' }),
  ];
}

function frame(
  axes: Axes,
  span: readonly number[],
  label: string,
  names: readonly string[],
  levels: readonly number[],
): Mark[] {
  const base = axes.height - BOTTOM;
  const marks: Mark[] = [
    { shape: 'path', at: { d: `M${LEFT} ${TOP}V${base}H${axes.width - RIGHT}`, class: 'd-dim' } },
  ];
  const [low, high] = [span[0]!, span.at(-1)!];
  const step = roundStep((high - low) / Math.max(2, Math.floor(axes.width / 130)));
  for (let v = Math.ceil(low / step) * step; v <= high + 1e-9; v += step) {
    marks.push({ shape: 'path', at: { d: `M${px(axes.x(v))} ${base}v5`, class: 'd-dim' } });
    marks.push(
      words(axes.x(v), base + 20, `${Number(v.toPrecision(6))}`, {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
  }
  marks.push(words(axes.width - RIGHT, base + 38, label, { class: 'd-text-soft', 'text-anchor': 'end' }));
  levels.forEach((level, k) => {
    marks.push({ shape: 'path', at: { d: `M${LEFT - 5} ${px(axes.y(level))}h5`, class: 'd-dim' } });
    marks.push(words(LEFT - 8, axes.y(level) + 5, names[k]!, { class: 'd-text-soft', 'text-anchor': 'end' }));
  });
  return marks;
}
