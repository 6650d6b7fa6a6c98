/** The window at the supply along time with the fixed voltage, the ramp and the minutes at risk; a key names what is hatched. */
import { type Axes, type BandFill, chartAxes, chartBand, chartFrame, chartKey, chartLine } from '../chart.ts';
import type { GradientPlan } from '../gradient/index.ts';
import { type Mark, type Picture, px, words } from '../picture.ts';

const HEIGHT_PX = 320;
/** Room under the axis for the spans of elution and wash. */
const SPANS_PX = 24;
const RISK_PX = 10;
const RISK_FILLS: Record<GradientPlan['risks'][number]['kind'], BandFill> = {
  'drips or pulsates': { fill: 'url(#q-event)' },
  'tilt or several jets': { fill: 'url(#q-kept)' },
  discharge: { class: 'd-solid' },
  'below minimum flow': { fill: 'url(#q-dots)' },
};
const STEADY: BandFill = { class: 'd-liquid' };

export function gradientPicture(gradient: GradientPlan, width: number): Picture {
  const times = gradient.times_min;
  const { supply_from_V: from, supply_to_V: to, judged, ramp } = gradient;
  const most = Math.max(
    ...to.middle.map((v, k) => Math.min(v, gradient.ceiling_V[k]!)),
    judged.supply_V,
    ...ramp.steps.map((s) => s.supply_V),
  );
  const least = Math.min(...from.low, judged.supply_V || Number.POSITIVE_INFINITY);
  const x: [number, number] = [times[0]!, times.at(-1)!];
  const y: [number, number] = [least * 0.9, most * 1.12];
  const axes = chartAxes({ width, height: HEIGHT_PX - SPANS_PX, x, y });
  const clip = (values: readonly number[]) => values.map((v) => Math.min(y[1], Math.max(y[0], v)));
  const roof = clip(to.middle.map((v, k) => Math.max(v, from.middle[k]!)));
  const kinds = [...new Set(gradient.risks.map(({ kind }) => kind))];
  const key = chartKey(
    [
      { name: 'steady in the middle case', filling: STEADY },
      {
        name: 'thin lines: highest lower edge, lowest upper edge (80 %)',
        filling: { class: 'd-dim', fill: 'none' },
      },
      ...kinds.map((kind) => ({ name: `at risk: ${kind}`, filling: RISK_FILLS[kind] })),
    ],
    width,
    HEIGHT_PX + 4,
  );
  return {
    width,
    height: HEIGHT_PX + 4 + key.height,
    title:
      'Supply window along the gradient with the fixed voltage and the ramp; hatched above: minutes at risk',
    marks: [
      ...chartBand(axes, times, clip(from.middle), roof, STEADY, 'steady between these'),
      chartLine(axes, times, clip(from.high), 'd-dim'),
      chartLine(axes, times, clip(to.low), 'd-dim'),
      ...gradient.risks.flatMap((risk) => riskMarks(axes, risk)),
      ...chartFrame(axes, x, y, { x: 'minutes at the tip', y: '' }),
      words(axes.left + 4, axes.top + RISK_PX + 16, 'supply, V', { class: 'd-text-soft d-halo' }),
      ...fixedMarks(axes, judged),
      ...rampMarks(axes, ramp.steps),
      ...spanMarks(axes, gradient),
      ...key.marks,
    ],
  };
}

function riskMarks(axes: Axes, risk: GradientPlan['risks'][number]): Mark[] {
  const from = px(axes.x(risk.start_min));
  const wide = px(Math.max(2, axes.x(risk.end_min) - axes.x(risk.start_min)));
  const d = `M${from} ${axes.top}h${wide}v${RISK_PX}h${-wide}Z`;
  return [
    { shape: 'path', at: { d, ...RISK_FILLS[risk.kind] }, tip: risk.sentence },
    { shape: 'path', at: { d, class: 'd-dim', fill: 'none' } },
  ];
}

function fixedMarks(axes: Axes, { which, supply_V }: GradientPlan['judged']): Mark[] {
  if (which === 'none') return [];
  const y = px(axes.y(supply_V));
  return [
    { shape: 'path', at: { d: `M${axes.left} ${y}H${axes.right}`, class: 'd-ink' } },
    words(axes.right - 4, y - 6, `${which} ${Math.round(supply_V)} V`, {
      'text-anchor': 'end',
      class: 'd-text d-halo',
    }),
  ];
}

function rampMarks(axes: Axes, steps: GradientPlan['ramp']['steps']): Mark[] {
  const last = steps.at(-1);
  if (last === undefined) return [];
  const d = steps.map(
    ({ time_min, until_min, supply_V }, k) =>
      `${k === 0 ? 'M' : 'L'}${px(axes.x(time_min))} ${px(axes.y(supply_V))}L${px(axes.x(until_min))} ${px(axes.y(supply_V))}`,
  );
  return [
    { shape: 'path', at: { d: d.join(''), class: 'd-composed', fill: 'none' } },
    words(axes.x(last.until_min) - 4, axes.y(last.supply_V) + 18, 'ramp', {
      'text-anchor': 'end',
      class: 'd-text d-halo',
    }),
  ];
}

function spanMarks(axes: Axes, { elution, wash }: GradientPlan): Mark[] {
  const foot = HEIGHT_PX - 14;
  return [elution, wash].flatMap((part, k): Mark[] => {
    if (part === undefined) return [];
    const [from, to] = [axes.x(part.start_min), axes.x(part.end_min)];
    return [
      { shape: 'path', at: { d: `M${px(from)} ${foot - 12}v6H${px(to)}v-6`, class: 'd-dim' } },
      words((from + to) / 2, foot + 10, k === 1 ? 'wash' : 'elution', {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    ];
  });
}
