/**
 * A voltage walk drawn as current against voltage: up as filled marks on a full line, down as open marks on a dashed one, the calmest step ringed; below,
 * one bar for each steady window (and for the planned one), hatched where it surely was steady, bare up to the step where it no longer was.
 */
import { chartAxes, chartFrame, chartLine } from '../../core/chart.ts';
import { type Mark, type Picture, px, words } from '../../core/picture.ts';
import type { CurrentSweep } from './voltage-sweep.ts';
import type { VoltageWalk } from './voltage-walk.ts';
import type { PlannedWindow } from './walk-against-plan.ts';

const CHART = 280;
const ROW = 34;
const BAR = 18;
const ROOM_V = 0.06;
/** Width of a letter of a bar's name. */
const LETTER_PX = 7.5;

interface Bar {
  name: string;
  /** Surely steady. */
  inner: readonly [number, number];
  /** Perhaps. */
  outer: readonly [number, number];
}

export function staircasePicture(
  walk: VoltageWalk,
  width: number,
  planned?: PlannedWindow | undefined,
): Picture {
  const title = 'Current at each step of the voltage';
  const steps = walk.sweeps.flatMap((sweep) => sweep.steps);
  if (steps.length === 0) return { width, height: 40, title, marks: [] };
  const volts = steps.map((s) => s.voltage_V);
  const room = ROOM_V * Math.max(1, Math.max(...volts) - Math.min(...volts));
  const x: [number, number] = [Math.min(...volts) - room, Math.max(...volts) + room];
  const y: [number, number] = [
    Math.min(0, ...steps.map((s) => s.level_nA.low)),
    1.08 * Math.max(1, ...steps.map((s) => s.level_nA.high)),
  ];
  const axes = chartAxes({ width, height: CHART, x, y });
  const at = walk.voltage_at === 'not stated' ? '' : ` at the ${walk.voltage_at}`;
  const marks: Mark[] = chartFrame(axes, x, y, { x: `voltage${at}, V`, y: 'current, nA' });
  for (const sweep of walk.sweeps) marks.push(...sweepMarks(sweep, axes));
  const bars = barsOf(walk, planned);
  for (const [i, bar] of bars.entries()) marks.push(...barMarks(bar, CHART + 8 + i * ROW, axes, x));
  return { width, height: CHART + 16 + bars.length * ROW, title, marks };
}

function sweepMarks(sweep: CurrentSweep, axes: ReturnType<typeof chartAxes>): Mark[] {
  const up = sweep.direction === 'up';
  const steps = [...sweep.steps].sort((a, b) => a.voltage_V - b.voltage_V);
  const line = chartLine(
    axes,
    steps.map((s) => s.voltage_V),
    steps.map((s) => s.level_nA.value),
  );
  const marks: Mark[] = [{ ...line, at: { ...line.at, ...(up ? {} : { 'stroke-dasharray': '5 4' }) } }];
  for (const step of steps) {
    const [cx, cy] = [px(axes.x(step.voltage_V)), px(axes.y(step.level_nA.value))];
    const tip = `${up ? 'up' : 'down'}, ${step.voltage_V} V: ${step.regime}`;
    marks.push({
      shape: 'path',
      at: { d: `M${cx} ${px(axes.y(step.level_nA.high))}V${px(axes.y(step.level_nA.low))}`, class: 'd-dim' },
    });
    marks.push(
      up
        ? { shape: 'circle', at: { cx, cy, r: 4.5, class: 'd-bar' }, tip }
        : { shape: 'circle', at: { cx, cy, r: 6.5, class: 'd-ink' }, tip },
    );
    if (step.jets !== null && step.jets > 1 && up)
      marks.push(
        words(cx - 8, cy - 10, `${step.jets} jets`, { class: 'd-text d-halo', 'text-anchor': 'end' }),
      );
  }
  const { best } = sweep;
  if (best) {
    const [cx, cy] = [px(axes.x(best.voltage_V)), px(axes.y(best.level_nA))];
    marks.push({
      shape: 'circle',
      at: { cx, cy, r: 12, class: 'd-event' },
      tip: `calmest, ${sweep.direction}`,
    });
  }
  return marks;
}

function barsOf(walk: VoltageWalk, planned: PlannedWindow | undefined): Bar[] {
  const bars: Bar[] = walk.sweeps.flatMap((sweep) => {
    const { lower, upper, direction } = sweep;
    if (lower?.at_most_V == null || upper?.above_V == null) return [];
    const inner = [lower.at_most_V, upper.above_V] as const;
    return [
      {
        name: `steady, ${direction}`,
        inner,
        outer: [lower.above_V ?? inner[0], upper.at_most_V ?? inner[1]] as const,
      },
    ];
  });
  if (planned)
    bars.push({
      name: `planned${walk.voltage_at === 'tip' ? '' : ' (at the tip)'}`,
      inner: [planned.window_low_V.high, planned.window_high_V.low],
      outer: [planned.window_low_V.low, planned.window_high_V.high],
    });
  return bars;
}

function barMarks(
  { name, inner, outer }: Bar,
  top: number,
  axes: ReturnType<typeof chartAxes>,
  [low, high]: readonly [number, number],
): Mark[] {
  const at = (volts: number) => axes.x(Math.min(high, Math.max(low, volts)));
  const [from, to] = outer.map(at) as [number, number];
  const box = { x: px(from), y: top, width: px(to - from), height: BAR };
  // Left of the bar where there is room for it, else inside.
  const beside = from - 6 > LETTER_PX * name.length;
  const sure = { ...box, x: px(at(inner[0])), width: px(at(inner[1]) - at(inner[0])) };
  return [
    ...(inner[1] > inner[0] ? [{ shape: 'rect', at: { ...sure, fill: 'url(#q-kept)' } } satisfies Mark] : []),
    {
      shape: 'rect',
      at: { ...box, class: 'd-ink' },
      tip: `${name}: ${Math.round(outer[0])} to ${Math.round(outer[1])} V at most`,
    },
    words(beside ? from - 6 : from + 4, top + 14, name, {
      class: 'd-text d-halo',
      'text-anchor': beside ? 'end' : 'start',
    }),
  ];
}
