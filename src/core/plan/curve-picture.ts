/** Height of the apex against voltage, up to and past the turning point. Only where the meniscus was solved. */
import { chartAxes, chartFrame, chartLine } from '../chart.ts';
import { type Picture, px, words } from '../picture.ts';
import type { Plan } from './plan.ts';

const HEIGHT_PX = 260;

export function curvePicture({ meniscus }: Plan, width: number): Picture | undefined {
  if (meniscus.kind !== 'solved') return undefined;
  const volts = meniscus.curve.map(({ tip_V }) => tip_V);
  const heights = meniscus.curve.map(({ apex_height_um }) => apex_height_um);
  const x: [number, number] = [0, meniscus.onset_V * 1.15];
  const y: [number, number] = [Math.min(0, ...heights), Math.max(...heights) * 1.1];
  const axes = chartAxes({ width, height: HEIGHT_PX, x, y });
  const turn = { x: axes.x(meniscus.onset_V), y: axes.y(meniscus.onset_apex_height_um) };
  return {
    width,
    height: HEIGHT_PX,
    title: `Apex height against tip voltage: turns at ${Math.round(meniscus.onset_V)} V, ${meniscus.onset_apex_height_um.toPrecision(3)} µm high`,
    marks: [
      ...chartFrame(axes, x, y, { x: 'tip voltage, V (no feed pressure)', y: 'apex height, µm' }),
      chartLine(axes, volts, heights),
      { shape: 'circle', at: { cx: px(turn.x), cy: px(turn.y), r: 5, class: 'd-glyph' } },
      words(turn.x - 8, turn.y - 10, 'turning point', { 'text-anchor': 'end', class: 'd-text d-halo' }),
    ],
  };
}
