/**
 * The trace: lowest and highest of each pixel column, or the samples themselves, on a plain canvas. Dragging zooms, the wheel
 * zooms about the pointer; a redraw's time is kept as the performance measure `current redraw`.
 */
import { useComputedColorScheme } from '@mantine/core';
import { useEffect, useRef, useState } from 'react';
import { chartTicks } from '../../core/chart.ts';
import type { Span } from '../decimate.ts';
import { useWidth } from '../use-width.ts';
import type { TraceView } from './sample-store.ts';

export interface TraceCanvasProps {
  samples: number;
  rate_Hz: number;
  start_s: number;
  span: Span;
  view: (from: number, to: number, columns: number) => Promise<TraceView | undefined>;
  onZoom: (span: Span) => void;
  /** Stretches named above the trace. */
  label: string;
}

const HEIGHT = 320;
const FRAME = { left: 70, right: 14, top: 12, bottom: 44 };
/** Fewer samples than this across the view make no sense. */
const LEAST_SAMPLES = 8;
const WHEEL = 1.25;

export function TraceCanvas({ samples, rate_Hz, start_s, span, view, onZoom, label }: TraceCanvasProps) {
  const { ref, width } = useWidth();
  const canvas = useRef<HTMLCanvasElement>(null);
  const scheme = useComputedColorScheme('light');
  const [shown, setShown] = useState<{ view: TraceView; span: Span }>();
  const [drag, setDrag] = useState<{ from: number; to: number }>();
  const columns = Math.max(50, Math.floor(width - FRAME.left - FRAME.right));
  useEffect(() => {
    let current = true;
    if (width === 0) return undefined;
    void view(span.from, span.to, columns).then((found) => {
      if (current && found) setShown({ view: found, span });
    });
    return () => {
      current = false;
    };
  }, [view, span, columns, width]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the scheme changes the colours that are read while drawing
  useEffect(() => {
    if (!canvas.current || !shown) return;
    performance.mark('current redraw begins');
    draw(canvas.current, width, shown.view, shown.span, { rate_Hz, start_s });
    performance.measure('current redraw', 'current redraw begins');
  }, [shown, width, rate_Hz, start_s, scheme]);
  const sampleAt = (clientX: number) => {
    const box = canvas.current!.getBoundingClientRect();
    const share = (clientX - box.left - FRAME.left) / columns;
    return span.from + Math.min(1, Math.max(0, share)) * (span.to - span.from);
  };
  const x = (sample: number) => FRAME.left + ((sample - span.from) / (span.to - span.from)) * columns;
  return (
    <div ref={ref} className="current-trace" role="img" aria-label={label} style={{ position: 'relative' }}>
      <canvas
        ref={canvas}
        style={{ width: '100%', height: HEIGHT, touchAction: 'pan-y', display: 'block' }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          const at = sampleAt(event.clientX);
          setDrag({ from: at, to: at });
        }}
        onPointerMove={(event) => drag && setDrag({ ...drag, to: sampleAt(event.clientX) })}
        onPointerUp={() => {
          if (drag && Math.abs(drag.to - drag.from) >= LEAST_SAMPLES)
            onZoom({ from: Math.min(drag.from, drag.to), to: Math.max(drag.from, drag.to) });
          setDrag(undefined);
        }}
        onPointerCancel={() => setDrag(undefined)}
        onLostPointerCapture={() => setDrag(undefined)}
        onWheel={(event) => {
          const at = sampleAt(event.clientX);
          const factor = event.deltaY > 0 ? WHEEL : 1 / WHEEL;
          onZoom(within({ from: at - (at - span.from) * factor, to: at + (span.to - at) * factor }, samples));
        }}
      />
      {drag && (
        <div
          className="drag-span"
          style={{
            left: Math.min(x(drag.from), x(drag.to)),
            width: Math.abs(x(drag.to) - x(drag.from)),
            top: FRAME.top,
            height: HEIGHT - FRAME.top - FRAME.bottom,
          }}
        />
      )}
    </div>
  );
}

/** A span inside the trace, no narrower than can be seen. */
export function within(span: Span, samples: number): Span {
  const size = Math.min(Math.max(span.to - span.from, LEAST_SAMPLES), samples);
  const from = Math.min(Math.max(span.from, 0), samples - size);
  return { from, to: from + size };
}

function draw(
  canvas: HTMLCanvasElement,
  width: number,
  view: TraceView,
  span: Span,
  time: { rate_Hz: number; start_s: number },
): void {
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
  pen.fillText(unit.name, right, base + 26);
}

/** The unit in which a stretch of time reads without zeros. */
export function timeUnit(span_s: number): { seconds: number; name: string } {
  if (span_s > 600) return { seconds: 60, name: 'min' };
  if (span_s > 0.6) return { seconds: 1, name: 's' };
  if (span_s > 6e-4) return { seconds: 1e-3, name: 'ms' };
  return { seconds: 1e-6, name: 'µs' };
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
