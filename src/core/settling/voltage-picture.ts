/** Level against voltage of a settle session: readings, the next voltage as an arrow, the limits, the margin as a length. */
import { chartAxes, chartFrame, chartUpright } from '../chart.ts';
import { type Mark, type Picture, px, words } from '../picture.ts';
import { readingMark } from './reading-mark.ts';
import type { Advice, SettleSession } from './session.ts';

const HEIGHT = 250;
/** Weaker readings stand on the floor of the chart: the course near the best is what matters. */
const DEEPEST = 300;

export function voltagePicture(session: SettleSession, advice: Advice, width: number): Picture {
  const spec = session.axes.voltage_V;
  const now = session.readings.at(-1)?.at ?? session.start;
  const volts = [now.voltage_V, advice.to.voltage_V, ...session.readings.map((r) => r.at.voltage_V)];
  if (spec) volts.push(spec.low, spec.high);
  const span: [number, number] = [Math.min(...volts) - 40, Math.max(...volts) + 40];
  const levels = session.readings.map((r) => r.level).filter((level) => level > 0);
  const none = levels.length === 0;
  const top = none ? 1 : Math.max(...levels) * 1.6;
  const least = none ? top / 10 : Math.max(Math.min(...levels) / 1.6, top / DEEPEST);
  const range: [number, number] = [Math.min(least, top / 3), top];
  const axes = chartAxes({ width, height: HEIGHT, x: span, y: range, logY: true });
  const marks: Mark[] = chartFrame(
    axes,
    span,
    range,
    { x: 'supply, V', y: none ? 'level (no reading above zero yet)' : 'level (weaker ones on the floor)' },
    (v) =>
      none
        ? ''
        : v >= 1e4 || v < 0.01
          ? v.toExponential(1).replace('e+', 'e')
          : `${Number(v.toPrecision(3))}`,
  );
  session.readings.forEach((reading, k) => {
    const at = { x: axes.x(reading.at.voltage_V), y: axes.y(Math.max(reading.level, range[0])) };
    marks.push(readingMark(reading, at, k, advice.taken[k]));
  });
  const limit = Math.min(session.supply_limit_V, session.discharge_limit_V ?? Number.POSITIVE_INFINITY);
  if (limit <= span[1]) marks.push(...chartUpright(axes, limit, 'not beyond', 'd-event'));
  if (advice.to.voltage_V !== now.voltage_V)
    marks.push(...arrow(axes.x(now.voltage_V), axes.x(advice.to.voltage_V), axes.top + 22));
  const margin = advice.best?.margins.find((one) => one.axis === 'voltage_V');
  if (advice.best && margin) {
    const at = advice.best.at.voltage_V;
    const [left, right] = [axes.x(at - margin.down), axes.x(at + margin.up)];
    const y = axes.bottom - 16;
    marks.push({
      shape: 'path',
      at: {
        d: `M${px(left)} ${px(y - 5)}v10M${px(left)} ${px(y)}H${px(right)}M${px(right)} ${px(y - 5)}v10`,
        class: 'd-dim',
      },
    });
    marks.push(
      words(
        axes.x(at),
        y - 8,
        `best ${Math.round(at)} V: ${Math.round(margin.down)} V below, ${Math.round(margin.up)} V above`,
        {
          class: 'd-text d-halo',
          'text-anchor': 'middle',
        },
      ),
    );
  }
  return {
    width,
    height: HEIGHT,
    title: `Level against voltage, ${session.readings.length} readings. ${advice.sentence}`,
    marks,
  };
}

function arrow(from: number, to: number, y: number): Mark[] {
  const back = to > from ? -9 : 9;
  return [
    {
      shape: 'path',
      at: {
        d: `M${px(from)} ${px(y)}H${px(to)}l${back} -6M${px(to)} ${px(y)}l${back} 6`,
        class: 'd-ink',
        'stroke-width': 2.4,
      },
    },
  ];
}
