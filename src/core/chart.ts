/** The parts that charts of marks share: axes with ticks, curves, bands with their key, uprights. No data, no science. */
import { type Mark, px, roundStep, words } from './picture.ts';

export interface Axes {
  x: (value: number) => number;
  y: (value: number) => number;
  /** Edges of the field in pixels. */
  left: number;
  right: number;
  top: number;
  bottom: number;
  logY: boolean;
}

export interface AxesSpec {
  width: number;
  height: number;
  x: readonly [number, number];
  y: readonly [number, number];
  /** Where the field begins, when charts stand below each other. */
  top?: number;
  /** A logarithmic ordinate; both ends above zero. */
  logY?: boolean;
}

const LEFT = 64;
const RIGHT = 14;
const TOP = 14;
const BOTTOM = 44;
/** Room for a tick's name. */
const TICK_PX = 130;
const TICK_ROWS_PX = 44;

export function chartAxes({ width, height, x, y, top = 0, logY = false }: AxesSpec): Axes {
  const scale = ([low, high]: readonly [number, number], from: number, to: number) => {
    const span = high - low || 1;
    return (value: number) => from + ((value - low) / span) * (to - from);
  };
  const field = { left: LEFT, right: width - RIGHT, top: top + TOP, bottom: top + height - BOTTOM };
  const linear = scale(logY ? [Math.log(y[0]), Math.log(y[1])] : y, field.bottom, field.top);
  const across = scale(x, field.left, field.right);
  return { ...field, logY, x: across, y: logY ? (v) => linear(Math.log(v)) : linear };
}

export interface FrameNames {
  x: string;
  y: string;
  /** The abscissa holds decadic logarithms: its ticks stand at round values and are named by this. */
  xLog?: (value: number) => string;
}

/** Both axes with their ticks; names say quantity and unit. */
export function chartFrame(
  axes: Axes,
  x: readonly [number, number],
  y: readonly [number, number],
  names: FrameNames,
  text: (value: number) => string = (value) => `${Number(value.toPrecision(4))}`,
): Mark[] {
  const { left, right, top, bottom } = axes;
  const marks: Mark[] = [
    { shape: 'path', at: { d: `M${left} ${px(top)}V${px(bottom)}H${px(right)}`, class: 'd-dim' } },
  ];
  const columns = Math.max(2, Math.floor((right - left) / TICK_PX));
  const { xLog } = names;
  const ticks = xLog
    ? logTicks([10 ** x[0], 10 ** x[1]], 2 * columns).map((v) => ({ at: Math.log10(v), name: xLog(v) }))
    : chartTicks(x, columns).map((v) => ({ at: v, name: `${Number(v.toPrecision(6))}` }));
  for (const { at, name } of ticks) {
    marks.push({ shape: 'path', at: { d: `M${px(axes.x(at))} ${px(bottom)}v5`, class: 'd-dim' } });
    marks.push(
      words(axes.x(at), bottom + 20, name, {
        class: 'd-text-soft',
        // The name of the last tick may not leave the picture.
        'text-anchor': axes.x(at) + (name.length * LETTER_PX) / 2 > right + RIGHT ? 'end' : 'middle',
      }),
    );
  }
  const rows = Math.max(2, Math.floor((bottom - top) / TICK_ROWS_PX));
  for (const v of axes.logY ? logTicks(y, rows) : chartTicks(y, rows)) {
    marks.push({ shape: 'path', at: { d: `M${left - 5} ${px(axes.y(v))}h5`, class: 'd-dim' } });
    marks.push(words(left - 8, axes.y(v) + 5, text(v), { class: 'd-text-soft', 'text-anchor': 'end' }));
  }
  marks.push(words(right, bottom + 38, names.x, { class: 'd-text-soft', 'text-anchor': 'end' }));
  if (names.y !== '') marks.push(words(left + 4, top + 12, names.y, { class: 'd-text-soft d-halo' }));
  return marks;
}

export function chartLine(axes: Axes, x: ArrayLike<number>, y: ArrayLike<number>, name = 'd-trace'): Mark {
  let d = '';
  for (let k = 0; k < x.length; k++) d += `${k === 0 ? 'M' : 'L'}${px(axes.x(x[k]!))} ${px(axes.y(y[k]!))}`;
  return { shape: 'path', at: { d, class: name, fill: 'none' } };
}

/** Whether the label of an upright ends inside the frame when it stands on its right. */
export function labelFitsRight(axes: Axes, at: number, label: string): boolean {
  return axes.x(at) + 6 + label.length * LETTER_PX < axes.right;
}

export function chartUpright(axes: Axes, at: number, label: string, name = 'd-ink'): Mark[] {
  const x = px(axes.x(at));
  const side = labelFitsRight(axes, at, label)
    ? words(x + 6, axes.top + 14, label, { class: 'd-text d-halo' })
    : words(x - 6, axes.top + 14, label, { class: 'd-text d-halo', 'text-anchor': 'end' });
  return [{ shape: 'path', at: { d: `M${x} ${px(axes.top)}V${px(axes.bottom)}`, class: name } }, side];
}

/** Filling of a band: one that also reads without colour. */
export interface BandFill {
  class?: string;
  fill?: string;
}

/** The stretch between two curves with its upper edge drawn; the name is for the pointer and the key. */
export function chartBand(
  axes: Axes,
  x: readonly number[],
  floor: readonly number[],
  roof: readonly number[],
  filling: BandFill,
  name: string,
): Mark[] {
  const up = x.map((v, k) => `${k === 0 ? 'M' : 'L'}${px(axes.x(v))} ${px(axes.y(roof[k]!))}`);
  const down = x.map((v, k) => `L${px(axes.x(v))} ${px(axes.y(floor[k]!))}`).reverse();
  return [
    { shape: 'path', at: { d: `${up.join('')}${down.join('')}Z`, ...filling }, tip: name },
    chartLine(axes, x, roof, 'd-dim'),
  ];
}

/** One entry for each band, its filling and its name, in lines that fit the width: a band may be too thin for its name. */
export function chartKey(
  bands: readonly { name: string; filling: BandFill }[],
  width: number,
  top: number,
): { marks: Mark[]; height: number } {
  const marks: Mark[] = [];
  let x = KEY_LEFT;
  let y = top;
  for (const { name, filling } of bands) {
    const wide = SWATCH_PX + 8 + name.length * LETTER_PX + 14;
    if (x > KEY_LEFT && x + wide > width) {
      x = KEY_LEFT;
      y += KEY_LINE_PX;
    }
    const d = `M${px(x)} ${px(y)}h${SWATCH_PX}v${SWATCH_PX}h${-SWATCH_PX}Z`;
    marks.push({ shape: 'path', at: { d, ...filling } });
    marks.push({ shape: 'path', at: { d, class: 'd-dim', fill: 'none' } });
    marks.push(words(x + SWATCH_PX + 8, y + SWATCH_PX - 2, name, { class: 'd-text-soft' }));
    x += wide;
  }
  return { marks, height: y + SWATCH_PX + 10 - top };
}

const KEY_LEFT = 12;
const KEY_LINE_PX = 26;
const SWATCH_PX = 16;
/** Generous width of a letter of the labels. */
export const LETTER_PX = 8.5;

/** Whole decades, with 2 and 5 between them where there is room. */
function logTicks([low, high]: readonly [number, number], wanted: number): number[] {
  const decades = Math.log10(high / low);
  const leads = decades * 3 <= wanted ? [1, 2, 5] : [1];
  const found: number[] = [];
  for (let power = Math.floor(Math.log10(low)); power <= Math.log10(high); power++)
    for (const lead of leads) {
      const v = lead * 10 ** power;
      if (v >= low && v <= high) found.push(v);
    }
  return found;
}

export function chartTicks([low, high]: readonly [number, number], wanted: number): number[] {
  const step = roundStep((high - low) / wanted);
  const found: number[] = [];
  for (let v = Math.ceil(low / step) * step; v <= high + 1e-9 * step; v += step) found.push(v);
  return found;
}
