/** A view of the trace on a plain canvas: axes, stretches from lowest to highest or the samples themselves, a walk's voltages over them. */
import { chartTicks } from '../../core/chart.ts';
import type { Span } from '../decimate.ts';
import type { TraceView } from './sample-store.ts';
import { timeUnit } from './time-unit.ts';

export const HEIGHT = 320;
export const FRAME = { left: 70, right: 14, top: 12, bottom: 44 };
/** Room for the name of a step. */
const STAIR_NAME_PX = 54;

export interface Drawn {
  view: TraceView;
  span: Span;
  rate_Hz: number;
  start_s: number;
  /** Voltages of a walk, drawn over the trace. */
  stairs: readonly Stair[];
}

export interface Stair {
  set_s: number;
  to_s: number;
  voltage_V: number;
}

export function drawTrace(canvas: HTMLCanvasElement, width: number, drawn: Drawn): void {
  const { view, span, stairs } = drawn;
  const time = { rate_Hz: drawn.rate_Hz, start_s: drawn.start_s };
  const ratio = window.devicePixelRatio || 1;
  canvas.width = Math.round(width * ratio);
  canvas.height = Math.round(HEIGHT * ratio);
  const pen = canvas.getContext('2d');
  if (!pen) return;
  pen.scale(ratio, ratio);
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string) => style.getPropertyValue(name).trim();
  const [low, high] = rangeOf(view);
  const pad = 0.06 * (high - low) || 1e-9;
  const [bottom, top] = [low - pad, high + pad];
  const right = width - FRAME.right;
  const base = HEIGHT - FRAME.bottom;
  const x = (sample: number) =>
    FRAME.left + ((sample - span.from) / (span.to - span.from)) * (right - FRAME.left);
  const y = (value: number) => base - ((value - bottom) / (top - bottom)) * (base - FRAME.top);
  pen.clearRect(0, 0, width, HEIGHT);
  axes(pen, {
    right,
    base,
    x,
    y,
    bottom,
    top,
    span,
    time,
    soft: colour('--ink-soft'),
    rule: colour('--rule'),
  });
  pen.save();
  pen.beginPath();
  pen.rect(FRAME.left, FRAME.top, right - FRAME.left, base - FRAME.top);
  pen.clip();
  pen.strokeStyle = colour('--liquid');
  pen.fillStyle = colour('--liquid');
  if (view.kind === 'samples') samplesDrawn(pen, view, x, y);
  else stretchesDrawn(pen, view, x, y);
  stairsDrawn(pen, stairs, (at_s) => x((at_s - time.start_s) * time.rate_Hz), {
    base,
    line: colour('--solid'),
    ink: colour('--ink'),
    halo: colour('--sheet'),
  });
  pen.restore();
}

function samplesDrawn(
  pen: CanvasRenderingContext2D,
  view: Extract<TraceView, { kind: 'samples' }>,
  x: (sample: number) => number,
  y: (value: number) => number,
): void {
  pen.lineWidth = 1.3;
  pen.beginPath();
  let down = false;
  for (let k = 0; k < view.values.length; k++) {
    const value = view.values[k]! * 1e9;
    if (Number.isNaN(value)) {
      down = false;
      continue;
    }
    if (down) pen.lineTo(x(view.first + k), y(value));
    else pen.moveTo(x(view.first + k), y(value));
    down = true;
  }
  pen.stroke();
  const apart = x(view.first + 1) - x(view.first);
  if (apart < 6) return;
  for (let k = 0; k < view.values.length; k++) {
    const value = view.values[k]! * 1e9;
    if (!Number.isNaN(value)) pen.fillRect(x(view.first + k) - 2, y(value) - 2, 4, 4);
  }
}

function stretchesDrawn(
  pen: CanvasRenderingContext2D,
  view: Extract<TraceView, { kind: 'stretches' }>,
  x: (sample: number) => number,
  y: (value: number) => number,
): void {
  const wide = Math.max(1, x(view.first + view.samples) - x(view.first));
  for (let k = 0; k < view.low.length; k++) {
    const [low, high] = [view.low[k]! * 1e9, view.high[k]! * 1e9];
    if (Number.isNaN(low)) continue;
    const roof = y(high);
    pen.fillRect(x(view.first + k * view.samples), roof, wide, Math.max(1.2, y(low) - roof));
  }
}

/** The voltage as a staircase between the quarter lines of the field, each step named where there is room. */
function stairsDrawn(
  pen: CanvasRenderingContext2D,
  stairs: readonly Stair[],
  x: (at_s: number) => number,
  at: { base: number; line: string; ink: string; halo: string },
): void {
  if (stairs.length === 0) return;
  const volts = stairs.map((s) => s.voltage_V);
  const [low, high] = [Math.min(...volts), Math.max(...volts)];
  const tall = at.base - FRAME.top;
  const y = (v: number) => at.base - tall * (0.08 + (0.8 * (v - low)) / Math.max(1, high - low));
  pen.strokeStyle = at.line;
  pen.lineWidth = 2;
  pen.beginPath();
  for (const [i, { set_s, to_s, voltage_V }] of stairs.entries()) {
    if (i === 0) pen.moveTo(x(set_s), y(voltage_V));
    else pen.lineTo(x(set_s), y(voltage_V));
    pen.lineTo(x(stairs[i + 1]?.set_s ?? to_s), y(voltage_V));
  }
  pen.stroke();
  pen.font = '14px Arial, sans-serif';
  pen.textAlign = 'left';
  pen.textBaseline = 'bottom';
  pen.strokeStyle = at.halo;
  pen.fillStyle = at.ink;
  pen.lineWidth = 4;
  for (const { set_s, to_s, voltage_V } of stairs) {
    const left = Math.max(x(set_s), FRAME.left);
    if (x(to_s) - left < STAIR_NAME_PX) continue;
    const text = `${voltage_V} V`;
    pen.strokeText(text, left + 2, y(voltage_V) - 3);
    pen.fillText(text, left + 2, y(voltage_V) - 3);
  }
}

interface AxesDrawn {
  right: number;
  base: number;
  x: (sample: number) => number;
  y: (value: number) => number;
  bottom: number;
  top: number;
  span: Span;
  time: { rate_Hz: number; start_s: number };
  soft: string;
  rule: string;
}

function axes(pen: CanvasRenderingContext2D, at: AxesDrawn): void {
  const { right, base, x, y, bottom, top, span, time } = at;
  pen.font = '14px Arial, sans-serif';
  pen.fillStyle = at.soft;
  pen.strokeStyle = at.rule;
  pen.lineWidth = 1;
  pen.textAlign = 'right';
  pen.textBaseline = 'middle';
  for (const value of chartTicks([bottom, top], 5)) {
    pen.beginPath();
    pen.moveTo(FRAME.left, y(value));
    pen.lineTo(right, y(value));
    pen.stroke();
    pen.fillText(`${Number(value.toPrecision(4))}`, FRAME.left - 8, y(value));
  }
  pen.textAlign = 'left';
  pen.textBaseline = 'top';
  pen.fillText('current, nA', FRAME.left + 6, FRAME.top + 2);
  const seconds = (sample: number) => time.start_s + sample / time.rate_Hz;
  const [from, to] = [seconds(span.from), seconds(span.to)];
  const unit = timeUnit(to - from);
  pen.textAlign = 'center';
  for (const tick of chartTicks(
    [from / unit.seconds, to / unit.seconds],
    Math.max(2, Math.floor((right - FRAME.left) / 120)),
  )) {
    const at_x = x((tick * unit.seconds - time.start_s) * time.rate_Hz);
    pen.beginPath();
    pen.moveTo(at_x, base);
    pen.lineTo(at_x, base + 5);
    pen.stroke();
    pen.fillText(`${Number(tick.toPrecision(8))}`, at_x, base + 8);
  }
  pen.textAlign = 'right';
  pen.fillText(`time, ${unit.name}`, right, base + 26);
}

function rangeOf(view: TraceView): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const [lows, highs] = view.kind === 'samples' ? [view.values, view.values] : [view.low, view.high];
  for (let k = 0; k < lows.length; k++) {
    if (lows[k]! < low) low = lows[k]!;
    if (highs[k]! > high) high = highs[k]!;
  }
  return low <= high ? [low * 1e9, high * 1e9] : [0, 1];
}
