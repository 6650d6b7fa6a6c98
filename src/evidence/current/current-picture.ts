/**
 * A trace drawn: lowest and highest of each window as a band with the level through it, the regimes as named bars below, the
 * spectrum at the bottom. Shapes and words tell regimes apart, never colour alone.
 */
import { type Mark, type Picture, px, roundStep, words } from '../../core/picture.ts';
import { frequencyText } from '../../core/signal/index.ts';
import type { CurrentReading } from './current-reading.ts';
import { currentText, regimeName } from './labels.ts';
import type { Regime } from './regimes.ts';
import type { VoltageWalk } from './voltage-walk.ts';
import { walkSteps } from './walk-events.ts';

const frame = { left: 92, right: 24, top: 40 };
const TRACE = 240;
const BARS = 70;
const SPECTRUM = 170;
const MOST_COLUMNS = 1200;

const FILLS: Partial<Record<Regime, string>> = {
  steady: 'url(#q-kept)',
  'several jets': 'url(#q-kept)',
  pulsating: 'url(#q-dots)',
  'intermittent bursts': 'url(#q-dots)',
  dripping: 'url(#q-dots)',
  discharge: 'url(#q-event)',
  'unsteady jet': 'url(#q-event)',
};

export function currentPicture(reading: CurrentReading, width: number, walk?: VoltageWalk): Picture {
  const title = `Spray current${reading.invented ? ' · INVENTED DATA' : ''}. ${reading.sentences[0] ?? ''}`;
  const marks: Mark[] = [words(6, 22, title)];
  const inner = width - frame.left - frame.right;
  const { start_s, end_s } = reading;
  const x = (time: number) => frame.left + (inner * (time - start_s)) / Math.max(1e-9, end_s - start_s);
  trace(marks, reading, x, inner);
  if (walk) stairs(marks, walk, x);
  const barsTop = frame.top + TRACE + 34;
  bars(marks, reading, x, barsTop);
  const spectrumTop = barsTop + BARS + 20;
  spectrum(marks, reading, inner, spectrumTop);
  return { width, height: spectrumTop + SPECTRUM + 44, title, marks };
}

function trace(marks: Mark[], reading: CurrentReading, x: (t: number) => number, inner: number): void {
  const windows = columns(reading);
  if (windows.length === 0) return;
  const top = Math.max(...windows.map((w) => w.max_nA));
  const bottom = Math.min(0, ...windows.map((w) => w.min_nA));
  const span = Math.max(1e-6, 1.05 * (top - bottom));
  const y = (value: number) => frame.top + TRACE * (1 - (value - bottom) / span);
  const step = roundStep(span / 4);
  for (let tick = Math.ceil(bottom / step) * step; tick <= bottom + span; tick += step) {
    marks.push({
      shape: 'path',
      at: { d: `M${frame.left} ${px(y(tick))}h${px(inner)}`, class: 'd-dim', 'stroke-opacity': 0.35 },
    });
    marks.push(
      words(frame.left - 8, y(tick) + 5, currentText(Math.abs(tick) < 1e-9 ? 0 : tick), {
        class: 'd-text-soft',
        'text-anchor': 'end',
      }),
    );
  }
  const above = windows.map((w) => `${px(x((w.start_s + w.end_s) / 2))} ${px(y(w.max_nA))}`);
  const below = windows.map((w) => `${px(x((w.start_s + w.end_s) / 2))} ${px(y(w.min_nA))}`).reverse();
  marks.push({
    shape: 'path',
    at: { d: `M${[...above, ...below].join('L')}Z`, class: 'd-liquid' },
    tip: 'lowest to highest sample',
  });
  marks.push({
    shape: 'path',
    at: {
      d: `M${windows.map((w) => `${px(x((w.start_s + w.end_s) / 2))} ${px(y(w.level_nA))}`).join('L')}`,
      class: 'd-trace',
    },
    tip: 'mean',
  });
  const seconds = roundStep((reading.end_s - reading.start_s) / Math.max(1, inner / 110));
  for (let tick = Math.ceil(reading.start_s / seconds) * seconds; tick <= reading.end_s; tick += seconds)
    marks.push(
      words(x(tick), frame.top + TRACE + 20, `${Number(tick.toPrecision(6))} s`, {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
}

/** The voltage over the trace, each step with its volts where there is room. */
function stairs(marks: Mark[], walk: VoltageWalk, x: (t: number) => number): void {
  const steps = walkSteps(walk);
  if (steps.length === 0) return;
  const volts = steps.map((s) => s.voltage_V);
  const [low, high] = [Math.min(...volts), Math.max(...volts)];
  const y = (v: number) => frame.top + TRACE * (0.92 - (0.8 * (v - low)) / Math.max(1, high - low));
  const d = steps.map((s, i) => {
    const end = steps[i + 1]?.set_s ?? s.to_s;
    return `${i === 0 ? 'M' : 'L'}${px(x(s.set_s))} ${px(y(s.voltage_V))}H${px(x(end))}`;
  });
  marks.push({ shape: 'path', at: { d: d.join(''), class: 'd-event' }, tip: 'voltage of the walk' });
  for (const s of steps)
    if (x(s.to_s) - x(s.set_s) > 44)
      marks.push(
        words(x(s.set_s) + 2, y(s.voltage_V) - 6, `${s.voltage_V} V`, { class: 'd-text-soft d-halo' }),
      );
}

/** At most MOST_COLUMNS windows, neighbours joined. */
function columns(reading: CurrentReading) {
  const join = Math.ceil(reading.windows.length / MOST_COLUMNS);
  const joined: { start_s: number; end_s: number; level_nA: number; min_nA: number; max_nA: number }[] = [];
  for (let i = 0; i < reading.windows.length; i += join) {
    const part = reading.windows.slice(i, i + join);
    joined.push({
      start_s: part[0]!.start_s,
      end_s: part.at(-1)!.end_s,
      level_nA: part.reduce((s, w) => s + w.level_nA, 0) / part.length,
      min_nA: Math.min(...part.map((w) => w.min_nA)),
      max_nA: Math.max(...part.map((w) => w.max_nA)),
    });
  }
  return joined;
}

function bars(marks: Mark[], reading: CurrentReading, x: (t: number) => number, top: number): void {
  let row = 0;
  for (const stretch of reading.timeline) {
    const from = x(stretch.start_s);
    const wide = Math.max(1, x(stretch.end_s) - from);
    marks.push({
      shape: 'rect',
      at: {
        x: px(from),
        y: top,
        width: px(wide),
        height: 22,
        class: 'd-ink',
        style: `fill:${FILLS[stretch.regime] ?? 'none'}`,
      },
      tip: stretch.sentence,
    });
    const text = regimeName(stretch.regime);
    if (wide < 40) continue;
    marks.push(words(from + 2, top + 40 + 18 * (row % 2), text, { class: 'd-text-soft' }));
    row++;
  }
}

function spectrum(marks: Mark[], reading: CurrentReading, inner: number, top: number): void {
  const { frequency_Hz, density_nA2_Hz } = reading.spectrum;
  const points: { f: number; d: number }[] = [];
  let next = 0;
  for (let k = 1; k < frequency_Hz.length; k++) {
    if (!(density_nA2_Hz[k]! > 0)) continue;
    // As many points as there are pixels: the highest of each.
    const at = Math.log(frequency_Hz[k]!);
    const last = points.at(-1);
    if (last && at < next) {
      if (density_nA2_Hz[k]! > last.d) last.d = density_nA2_Hz[k]!;
      continue;
    }
    points.push({ f: frequency_Hz[k]!, d: density_nA2_Hz[k]! });
    next = at + 0.008;
  }
  if (points.length < 4) return;
  const [f0, f1] = [Math.log10(points[0]!.f), Math.log10(points.at(-1)!.f)];
  const logs = points.map((p) => Math.log10(p.d));
  const high = Math.max(...logs);
  const low = Math.max(Math.min(...logs), high - 12);
  const x = (f: number) => frame.left + (inner * (Math.log10(f) - f0)) / (f1 - f0);
  const y = (d: number) =>
    top + SPECTRUM * (1 - (Math.max(low, Math.log10(d)) - low) / Math.max(0.5, high - low));
  marks.push({
    shape: 'path',
    at: { d: `M${points.map((p) => `${px(x(p.f))} ${px(y(p.d))}`).join('L')}`, class: 'd-trace' },
  });
  marks.push(
    words(frame.left + 4, top + 12, 'spectrum, nA²/Hz (logarithmic)', { class: 'd-text-soft d-halo' }),
  );
  for (let power = Math.ceil(f0); power <= f1; power++)
    marks.push(
      words(x(10 ** power), top + SPECTRUM + 22, frequencyText(10 ** power), {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
  const { limit_Hz } = reading.decidability;
  if (limit_Hz !== null && Math.log10(limit_Hz) > f0 && Math.log10(limit_Hz) <= f1) {
    marks.push({ shape: 'path', at: { d: `M${px(x(limit_Hz))} ${top}v${SPECTRUM}`, class: 'd-composed' } });
    marks.push(
      words(x(limit_Hz) - 4, top + 30, 'decidable up to here', {
        class: 'd-text-soft d-halo',
        'text-anchor': 'end',
      }),
    );
  }
}
