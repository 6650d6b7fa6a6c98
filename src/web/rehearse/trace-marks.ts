/** The traces of the rehearsed bench as pictures: current over seconds, current sample by sample, signal scan by scan. */
import { type Mark, type Picture, px, roundStep, words } from '../../core/picture.ts';
import { TICK_S } from '../../rehearsal/index.ts';
import { CURRENT_S, type Memory, SIGNAL_S } from './memory.ts';

const frame = { left: 64, right: 14, top: 30, bottom: 30 };

interface Axes {
  picture: Picture;
  x: (share: number) => number;
  y: (value: number) => number;
}

/** `from` and `to` are the ends of the value axis; time ticks are given as shares with their words. */
function axes(
  title: string,
  unit: string,
  width: number,
  height: number,
  [from, to]: readonly [number, number],
  ticks: readonly (readonly [number, string])[],
): Axes {
  const marks: Mark[] = [];
  const x = (share: number) => frame.left + share * (width - frame.left - frame.right);
  const y = (value: number) =>
    height - frame.bottom - ((value - from) / (to - from)) * (height - frame.top - frame.bottom);
  const step = roundStep((to - from) / 4);
  for (let value = Math.ceil(from / step) * step; value <= to + 1e-9 * step; value += step) {
    marks.push({
      shape: 'path',
      at: {
        class: 'd-dim',
        'stroke-dasharray': '1 4',
        d: `M${frame.left} ${px(y(value))}H${width - frame.right}`,
      },
    });
    marks.push(
      words(frame.left - 7, y(value) + 5, short(value, step), { class: 'd-text-soft', 'text-anchor': 'end' }),
    );
  }
  for (const [share, text] of ticks) {
    const anchor = share > 0.95 ? 'end' : share < 0.05 ? 'start' : 'middle';
    marks.push(words(x(share), height - 9, text, { class: 'd-text-soft', 'text-anchor': anchor }));
  }
  marks.push(words(frame.left - 52, 19, `${title} [${unit}]`));
  return { picture: { width, height, title, marks }, x, y };
}

function short(value: number, step: number): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const text = value.toFixed(decimals).replace('-', '−');
  return /^−0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** Ends of an axis that step, so that the scale holds still while the trace moves within it. */
function ends(low: number, high: number): [number, number] {
  const step = roundStep(Math.max(high, -low, 1e-9) / 4);
  const below = -low <= NOISE_ROOM * step ? -NOISE_ROOM * step : Math.floor(low / step) * step;
  return [low < 0 ? below : 0, Math.max(step, Math.ceil(high / step) * step)];
}

/** Of a step: noise about zero needs no step of its own. */
const NOISE_ROOM = 0.25;

/** Each column from the lowest to the highest sample, its mean as a line. */
export function currentMarks(memory: Memory, width: number, height: number): Picture {
  const { low, high, mean, head, filled } = memory;
  const size = low.length;
  let [least, most] = [0, 5e-9];
  for (let k = 0; k < filled; k++) {
    const at = (head - 1 - k + size) % size;
    if (low[at]! < least) least = low[at]!;
    if (high[at]! > most) most = high[at]!;
  }
  const { picture, x, y } = axes(
    'Spray current',
    'nA',
    width,
    height,
    ends(least * 1e9, most * 1e9),
    [0, 0.25, 0.5, 0.75, 1].map((share) => [share, share === 1 ? 'now' : `−${CURRENT_S * (1 - share)} s`]),
  );
  const columns = Math.max(1, Math.floor(width - frame.left - frame.right));
  let body = '';
  let middle = '';
  for (let c = 0; c < columns; c++) {
    const from = Math.floor((c / columns) * size);
    const to = Math.max(from + 1, Math.floor(((c + 1) / columns) * size));
    let [l, h, sum, count] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, 0];
    for (let k = from; k < to; k++) {
      const back = size - 1 - k;
      if (back >= filled) continue;
      const at = (head - 1 - back + size) % size;
      l = Math.min(l, low[at]!);
      h = Math.max(h, high[at]!);
      sum += mean[at]!;
      count++;
    }
    if (count === 0) continue;
    const at = px(x((c + 0.5) / columns));
    body += `M${at} ${px(y(l * 1e9))}V${px(y(h * 1e9) - 0.5)}`;
    middle += `${middle === '' ? 'M' : 'L'}${at} ${px(y((sum / count) * 1e9))}`;
  }
  picture.marks.push({ shape: 'path', at: { class: 'd-trace', 'stroke-width': 1, d: body || 'M0 0' } });
  picture.marks.push({ shape: 'path', at: { class: 'd-ink', 'stroke-width': 1.6, d: middle || 'M0 0' } });
  return picture;
}

export function zoomMarks(zoom: Float32Array, rate_Hz: number, width: number, height: number): Picture {
  let [least, most] = [0, 5e-9];
  for (const value of zoom) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  const { picture, x, y } = axes('Every sample', 'nA', width, height, ends(least * 1e9, most * 1e9), [
    [0, '0'],
    [0.5, `${Number(((zoom.length / rate_Hz) * 500).toPrecision(3))} ms`],
    [1, `${Number(((zoom.length / rate_Hz) * 1000).toPrecision(3))} ms`],
  ]);
  let d = '';
  for (let i = 0; i < zoom.length; i++)
    d += `${i === 0 ? 'M' : 'L'}${px(x(i / (zoom.length - 1)))} ${px(y(zoom[i]! * 1e9))}`;
  picture.marks.push({ shape: 'path', at: { class: 'd-trace', 'stroke-width': 1.4, d } });
  return picture;
}

/** Scans as steps, in percent of the best signal at 300 nL/min. */
export function signalMarks(memory: Memory, width: number, height: number): Picture {
  const { scans, time_s } = memory;
  const most = scans.reduce((high, scan) => Math.max(high, scan.level), 0.02);
  const { picture, x, y } = axes(
    'Signal of each scan',
    '%',
    width,
    height,
    ends(0, most * 100),
    [0, 0.5, 1].map((share) => [share, share === 1 ? 'now' : `−${SIGNAL_S * (1 - share)} s`]),
  );
  let d = '';
  scans.forEach((scan, k) => {
    const from = 1 - (time_s - scan.time_s) / SIGNAL_S;
    const to = 1 - (time_s - (scans[k + 1]?.time_s ?? scan.time_s + 1)) / SIGNAL_S;
    if (to <= 0) return;
    const level = px(y(scan.level * 100));
    d += `${d === '' ? 'M' : 'L'}${px(x(Math.max(0, from)))} ${level}H${px(x(Math.min(1, to)))}`;
  });
  picture.marks.push({ shape: 'path', at: { class: 'd-trace', 'stroke-width': 1.8, d: d || 'M0 0' } });
  return picture;
}

/** The remembered current as rows of 5 ms. */
export function currentCsv(memory: Memory): string {
  const size = memory.low.length;
  const lines = [
    '# invented data: made by steadycone rehearse; not a measurement',
    'time_s,low_nA,high_nA,mean_nA',
  ];
  for (let back = memory.filled - 1; back >= 0; back--) {
    const at = (memory.head - 1 - back + size) % size;
    const nA = (value: number) => (value * 1e9).toFixed(3);
    lines.push(
      `${(memory.time_s - (back + 1) * TICK_S).toFixed(3)},${nA(memory.low[at]!)},${nA(memory.high[at]!)},${nA(memory.mean[at]!)}`,
    );
  }
  return `${lines.join('\n')}\n`;
}
