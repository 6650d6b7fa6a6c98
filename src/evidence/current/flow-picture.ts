/** A flow walk drawn: current against flow, both axes logarithmic; used steps filled, others open, the free fit through them. */
import { chartAxes, chartFrame, chartLine } from '../../core/chart.ts';
import { type Mark, type Picture, px } from '../../core/picture.ts';
import type { FlowWalk } from './flow-walk.ts';

const HEIGHT = 260;
const POINTS = 20;

export function flowPicture(walk: FlowWalk, width: number): Picture {
  const title = 'Current against flow';
  const shown = walk.points.filter((p) => p.current_nA > 0);
  if (shown.length === 0) return { width, height: 40, title, marks: [] };
  const logs = shown.map((p) => Math.log10(p.flow_nL_min));
  const x: [number, number] = [Math.min(...logs) - 0.1, Math.max(...logs) + 0.1];
  const currents = shown.map((p) => p.current_nA);
  const y: [number, number] = [Math.min(...currents) / 1.3, Math.max(...currents) * 1.3];
  const axes = chartAxes({ width, height: HEIGHT, x, y, logY: true });
  const marks: Mark[] = chartFrame(axes, x, y, {
    x: 'flow, nL/min (logarithmic)',
    y: 'current, nA (logarithmic)',
    xLog: (flow) => `${Number(flow.toPrecision(3))}`,
  });
  const { exponent, coefficient_nA } = walk;
  if (exponent && coefficient_nA) {
    const at = Array.from({ length: POINTS }, (_, k) => x[0] + ((x[1] - x[0]) * k) / (POINTS - 1));
    const fitted = at.map((log) => coefficient_nA.value * 10 ** (log * exponent.value));
    const inside = at.flatMap((_, k) => (fitted[k]! >= y[0] && fitted[k]! <= y[1] ? [k] : []));
    marks.push(
      chartLine(
        axes,
        inside.map((k) => at[k]!),
        inside.map((k) => fitted[k]!),
      ),
    );
  }
  for (const point of shown)
    marks.push({
      shape: 'circle',
      at: {
        cx: px(axes.x(Math.log10(point.flow_nL_min))),
        cy: px(axes.y(point.current_nA)),
        r: point.used ? 5 : 6.5,
        class: point.used ? 'd-bar' : 'd-ink',
      },
      tip: `${point.flow_nL_min} nL/min: ${point.current_nA.toPrecision(3)} nA${point.used ? '' : ', left out'}`,
    });
  return { width, height: HEIGHT, title, marks };
}
