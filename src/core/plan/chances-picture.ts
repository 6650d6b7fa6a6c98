/**
 * The chances of each state over the tip's voltage, stacked. Every band is named in the key under the field, and in the field too where
 * its name fits. A voltage that is not advised is not called so.
 */
import {
  type Axes,
  type BandFill,
  chartAxes,
  chartBand,
  chartFrame,
  chartKey,
  chartUpright,
  LETTER_PX,
  labelFitsRight,
} from '../chart.ts';
import { type Mark, type Picture, words } from '../picture.ts';
import type { State } from '../window/index.ts';
import type { Plan } from './plan.ts';

const FIELD_PX = 260;
/** From the bottom of the picture upward, which is from the first state to the last. */
const BANDS: readonly [state: State, name: string, filling: BandFill][] = [
  ['below_onset', 'below onset', { fill: 'none' }],
  ['pulsating', 'pulsating', { fill: 'url(#q-event)' }],
  ['steady', 'steady cone-jet', { class: 'd-liquid' }],
  ['tilted', 'tilted', { fill: 'url(#q-kept)' }],
  ['several_jets', 'several jets', { fill: 'url(#q-dots)' }],
  ['discharge', 'discharge', { class: 'd-solid' }],
];

/** `isPending`: the advice is not settled yet. */
export function windowPicture({ window, ...plan }: Plan, width: number, isPending = false): Picture {
  const volts = window.voltage_V;
  const span: [number, number] = [volts[0]!, volts.at(-1)!];
  const axes = chartAxes({ width, height: FIELD_PX, x: span, y: [0, 1] });
  const none = isPending || plan.advice_withheld !== null;
  const best_V = plan.advised_V.value;
  const label = `${none ? 'most likely' : 'advised'} ${Math.round(best_V)} V`;
  const upright = chartUpright(axes, best_V, label);
  const fields: Mark[] = [];
  const names: Mark[] = [];
  const floor = volts.map(() => 0);
  const taken = [labelBox(axes, best_V, label)];
  for (const [state, name, filling] of BANDS) {
    const roof = floor.map((low, k) => low + window[state][k]!);
    fields.push(...chartBand(axes, volts, floor, roof, filling, name));
    names.push(...nameIn(axes, volts, floor, roof, name, taken));
    roof.forEach((high, k) => {
      floor[k] = high;
    });
  }
  const key = chartKey(
    BANDS.map(([, name, filling]) => ({ name, filling })),
    width,
    FIELD_PX,
  );
  return {
    width,
    height: FIELD_PX + key.height,
    title: `Chances over the tip's voltage; best ${Math.round(window.best_V)} V, steady in ${Math.round(100 * window.best_probability)} %`,
    // Words last: a band drawn after another's name would cover it.
    marks: [
      ...fields,
      ...chartFrame(
        axes,
        span,
        [0, 1],
        { x: 'tip voltage, V', y: '' },
        (share) => `${Math.round(100 * share)} %`,
      ),
      ...upright,
      // The halo of a name lifts it off the upright too.
      ...names,
      ...key.marks,
    ],
  };
}

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}
const LEAST_LABEL_PX = 22;

/** Where the label of an upright stands. */
function labelBox(axes: Axes, at: number, label: string): Box {
  const x = axes.x(at);
  const toRight = labelFitsRight(axes, at, label);
  const wide = 6 + label.length * LETTER_PX;
  return {
    left: toRight ? x : x - wide,
    right: toRight ? x + wide : x,
    top: axes.top,
    bottom: axes.top + 20,
  };
}

/** The name in the thickest place of its band where it fits and covers no other; none where there is no such place. */
function nameIn(
  axes: Axes,
  at: readonly number[],
  floor: readonly number[],
  roof: readonly number[],
  name: string,
  taken: Box[],
): Mark[] {
  const half = (name.length * LETTER_PX) / 2;
  const order = at.map((_, k) => k).sort((a, b) => roof[b]! - floor[b]! - (roof[a]! - floor[a]!));
  for (const k of order) {
    if (axes.y(floor[k]!) - axes.y(roof[k]!) < LEAST_LABEL_PX) return [];
    const x = axes.x(at[k]!);
    const y = (axes.y(floor[k]!) + axes.y(roof[k]!)) / 2 + 5;
    const middle = y - 5;
    const box = {
      left: x - half,
      right: x + half,
      top: middle - LEAST_LABEL_PX / 2,
      bottom: middle + LEAST_LABEL_PX / 2,
    };
    const covered = taken.some(
      (b) => box.left < b.right && b.left < box.right && box.top < b.bottom && b.top < box.bottom,
    );
    if (box.left < axes.left || box.right > axes.right || covered) continue;
    taken.push(box);
    return [words(x, y, name, { 'text-anchor': 'middle', class: 'd-text d-halo' })];
  }
  return [];
}
