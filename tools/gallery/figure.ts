/** One sheet of the gallery: the trace whole and sample by sample, how often which current, the spectrum, and all that a slow meter sees. */
import { type Axes, chartAxes, chartFrame, chartLine } from '../../src/core/chart.ts';
import { type Mark, type Picture, words } from '../../src/core/picture.ts';
import { METERS } from '../../src/rehearsal/index.ts';
import type { GalleryCase } from './cases.ts';
import { type Recorded, record, SEED, SLOW } from './record.ts';
import { welch } from './welch.ts';

const WIDTH = 820;
const HALF = 400;
const HEIGHT = 196;
const TOP = 34;
const COLUMNS = 300;
const BINS = 60;
const POINTS = 140;
/** Most samples drawn one by one. */
const ONE_BY_ONE = 400;

export function galleryFigure(one: GalleryCase): Picture {
  const fast = record(one, METERS[one.meter]);
  const slow = record(one, SLOW);
  const [low, high] = ends([fast.samples, slow.samples]);
  const marks: Mark[] = [
    words(8, 22, one.title, { 'font-weight': 700 }),
    words(WIDTH - 8, 22, `invented by the rehearsal, emitter ${SEED}`, {
      'text-anchor': 'end',
      class: 'd-text-soft',
    }),
  ];
  const { at_s, ms } = zoomOf(one, fast);
  const rate = fast.meter.rate_Hz;
  const from = Math.round(at_s * rate);
  const near = fast.samples.subarray(from, from + Math.round((ms / 1000) * rate));
  marks.push(...panel(0, 0, overview(fast, [low, high], `through ${name(fast)}`)));
  marks.push(...panel(1, 0, zoomed(near, rate, [low, high])));
  marks.push(...panel(0, 1, distribution(fast.samples)));
  marks.push(...panel(1, 1, spectrum(fast)));
  marks.push(...panel(0, 2, overview(slow, [low, high], `through ${name(slow)}`)));
  marks.push(...panel(1, 2, distribution(slow.samples)));
  return {
    width: WIDTH,
    height: TOP + 3 * HEIGHT + 6,
    title: `${one.title}: an invented current trace`,
    marks,
  };
}

function name({ meter }: Recorded): string {
  return `a meter of ${kHz(meter.bandwidth_Hz)}, ${kHz(meter.rate_Hz).replace('Hz', 'S/s')}`;
}

function kHz(f: number): string {
  return f >= 1e6 ? `${f / 1e6} MHz` : `${Number((f / 1000).toPrecision(2))} kHz`;
}

function panel(column: number, row: number, marks: Mark[]): Mark[] {
  const transform = `translate(${column * (WIDTH - HALF)} ${TOP + row * HEIGHT})`;
  return marks.map((mark) => ({ ...mark, at: { ...mark.at, transform } }));
}

/** Lowest and highest [nA], with room for the axis's name above. */
function ends(traces: readonly Float32Array[]): [number, number] {
  let [low, high] = [0, 1e-9];
  for (const samples of traces)
    for (const value of samples) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  const span = (high - low) * 1e9;
  return [low * 1e9 - 0.03 * span, high * 1e9 + HEADROOM * span];
}
const HEADROOM = 0.18;

/** Around the highest sample where no second is given. */
function zoomOf({ zoom, seconds }: GalleryCase, { samples, meter }: Recorded): { at_s: number; ms: number } {
  if (zoom.at_s > 0) return zoom;
  let top = 0;
  for (let i = 0; i < samples.length; i++) if (samples[i]! > samples[top]!) top = i;
  const at_s = Math.min(seconds - zoom.ms / 1000, Math.max(0, top / meter.rate_Hz - zoom.ms / 3000));
  return { at_s, ms: zoom.ms };
}

function overview({ samples, meter }: Recorded, y: [number, number], where: string): Mark[] {
  const x = [0, samples.length / meter.rate_Hz] as const;
  const axes = chartAxes({ width: HALF, height: HEIGHT, x, y });
  const marks = chartFrame(axes, x, y, { x: 'time [s]', y: 'current [nA]' });
  marks.push({ shape: 'path', at: { d: columns(samples, axes, y), class: 'd-trace' } });
  marks.push(words(axes.right, axes.top - 2, where, { class: 'd-text-soft d-halo', 'text-anchor': 'end' }));
  return marks;
}

/** Sample by sample where there is room. */
function zoomed(samples: Float32Array, rate_Hz: number, y: [number, number]): Mark[] {
  const time_s = samples.length / rate_Hz;
  const [scale, unit] = time_s >= 1 ? [1, 's'] : [1000, 'ms'];
  const x = [0, scale * time_s] as const;
  const axes = chartAxes({ width: HALF, height: HEIGHT, x, y });
  const marks = chartFrame(axes, x, y, { x: `part of it, time [${unit}]`, y: 'current [nA]' });
  let d = '';
  if (samples.length > ONE_BY_ONE) d = columns(samples, axes, y);
  else
    for (let i = 0; i < samples.length; i++)
      d += `${i === 0 ? 'M' : 'L'}${round(axes.x((scale * i) / rate_Hz))} ${level(axes, samples[i]!, y)}`;
  marks.push({ shape: 'path', at: { d, class: 'd-trace' } });
  return marks;
}

/** From the lowest to the highest sample in each column. */
function columns(samples: Float32Array, axes: Axes, y: [number, number]): string {
  let d = '';
  for (let c = 0; c < COLUMNS; c++) {
    const from = Math.floor((c * samples.length) / COLUMNS);
    const to = Math.floor(((c + 1) * samples.length) / COLUMNS);
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = from; i < to; i++) {
      least = Math.min(least, samples[i]!);
      most = Math.max(most, samples[i]!);
    }
    const at = round(axes.left + ((c + 0.5) / COLUMNS) * (axes.right - axes.left));
    d += `M${at} ${level(axes, least, y) + 1}V${level(axes, most, y)}`;
  }
  return d;
}

function distribution(samples: Float32Array): Mark[] {
  const [low, high] = ends([samples]);
  const counts = new Array<number>(BINS).fill(0);
  for (const value of samples) {
    const bin = Math.floor(((value * 1e9 - low) / (high - low)) * BINS);
    counts[Math.min(BINS - 1, Math.max(0, bin))]!++;
  }
  const share = counts.map((count) => count / samples.length);
  const x = [low, high] as const;
  const y = [1e-5, 8] as const;
  const axes = chartAxes({ width: HALF, height: HEIGHT, x, y, logY: true });
  const marks = chartFrame(axes, x, y, { x: 'current [nA]', y: 'share of samples' });
  let d = '';
  share.forEach((part, k) => {
    if (part < y[0]) return;
    const [left, right] = [k, k + 1].map((edge) => round(axes.x(low + ((high - low) * edge) / BINS)));
    d += `M${left} ${round(axes.bottom)}V${round(axes.y(part))}H${right}V${round(axes.bottom)}Z`;
  });
  marks.push({ shape: 'path', at: { d, class: 'd-liquid' } });
  marks.push({ shape: 'path', at: { d, class: 'd-trace', fill: 'none' } });
  return marks;
}

function spectrum({ samples, meter }: Recorded): Mark[] {
  const { f_Hz, density } = welch(samples, meter.rate_Hz, POINTS);
  const fA = density.map((value) => Math.max(value * 1e15, 1));
  const decade = (value: number, up: boolean) =>
    10 ** (up ? Math.ceil(Math.log10(value)) : Math.floor(Math.log10(value)));
  const y = [decade(Math.min(...fA), false), decade(Math.max(...fA) * 1.5, true)] as const;
  const x = [Math.log10(f_Hz[0]!), Math.log10(f_Hz.at(-1)!)] as const;
  const axes = chartAxes({ width: HALF, height: HEIGHT, x, y, logY: true });
  const marks: Mark[] = [
    { shape: 'path', at: { d: `M${axes.left} ${axes.top}V${axes.bottom}H${axes.right}`, class: 'd-dim' } },
    words(axes.left + 4, axes.top + 12, 'spectrum [fA/√Hz]', { class: 'd-text-soft d-halo' }),
    words(axes.right, axes.bottom + 38, 'frequency', { class: 'd-text-soft', 'text-anchor': 'end' }),
  ];
  for (let power = Math.ceil(x[0]); power <= x[1]; power++)
    marks.push(
      words(axes.x(power), axes.bottom + 20, power < 3 ? `${10 ** power} Hz` : kHz(10 ** power), {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
  for (const value of [y[0], y[1]])
    marks.push(
      words(axes.left - 8, axes.y(value) + 5, value.toExponential(0).replace('+', ''), {
        class: 'd-text-soft',
        'text-anchor': 'end',
      }),
    );
  marks.push(
    chartLine({ ...axes, x: (v) => round(axes.x(v)), y: (v) => round(axes.y(v)) }, f_Hz.map(Math.log10), fA),
  );
  return marks;
}

function level(axes: Axes, value_A: number, [low, high]: readonly [number, number]): number {
  return round(axes.y(Math.min(high, Math.max(low, value_A * 1e9))));
}

/** Half pixels: small files, and no digit that another machine rounds otherwise. */
function round(value: number): number {
  return Math.round(value * 2) / 2;
}
