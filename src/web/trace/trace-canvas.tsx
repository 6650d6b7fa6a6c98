/**
 * The trace: lowest and highest of each pixel column, or the samples themselves, on a plain canvas. Dragging zooms; with Ctrl,
 * or a pinch on a touchpad, the wheel zooms about the pointer, alone it scrolls the page as everywhere. Two performance measures are kept: `current redraw`, the drawing alone, and `current view`, from the change of the
 * span over the worker's answer to the drawn picture.
 */
import { useComputedColorScheme } from '@mantine/core';
import { useEffect, useRef, useState } from 'react';
import type { Span } from '../decimate.ts';
import { saidBy } from '../said-by.ts';
import { useWidth } from '../use-width.ts';
import type { TraceView } from './sample-store.ts';
import { drawTrace, FRAME, HEIGHT, type Stair } from './trace-drawing.ts';

export interface TraceCanvasProps {
  rate_Hz: number;
  start_s: number;
  span: Span;
  view: (from: number, to: number, columns: number) => Promise<TraceView | undefined>;
  onZoom: (span: Span) => void;
  /** The samples could not be had. */
  onTrouble: (said: string) => void;
  /** Voltages of a walk. */
  stairs: readonly Stair[];
  /** Stretches named above the trace. */
  label: string;
}

/** Fewer samples than this across the view make no sense. */
const LEAST_SAMPLES = 8;
const WHEEL = 1.25;

export function TraceCanvas({
  rate_Hz,
  start_s,
  span,
  view,
  onZoom,
  onTrouble,
  stairs,
  label,
}: TraceCanvasProps) {
  const { ref, width } = useWidth();
  const canvas = useRef<HTMLCanvasElement>(null);
  const scheme = useComputedColorScheme('light');
  const [shown, setShown] = useState<{ view: TraceView; span: Span; asked_ms: number }>();
  const [drag, setDrag] = useState<{ from: number; to: number }>();
  const columns = Math.max(50, Math.floor(width - FRAME.left - FRAME.right));
  useEffect(() => {
    let current = true;
    if (width === 0) return undefined;
    const asked_ms = performance.now();
    view(span.from, span.to, columns).then(
      (found) => {
        if (current && found) setShown({ view: found, span, asked_ms });
      },
      (trouble: unknown) => {
        if (current) onTrouble(saidBy(trouble));
      },
    );
    return () => {
      current = false;
    };
  }, [view, span, columns, width, onTrouble]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the scheme changes the colours that are read while drawing
  useEffect(() => {
    if (!canvas.current || !shown) return;
    performance.mark('current redraw begins');
    drawTrace(canvas.current, width, { ...shown, rate_Hz, start_s, stairs });
    performance.measure('current redraw', 'current redraw begins');
    performance.measure('current view', { start: shown.asked_ms, detail: samplesEach(shown.view) });
  }, [shown, width, rate_Hz, start_s, stairs, scheme]);
  const sampleAt = (clientX: number) => {
    const box = canvas.current!.getBoundingClientRect();
    const share = (clientX - box.left - FRAME.left) / columns;
    return span.from + Math.min(1, Math.max(0, share)) * (span.to - span.from);
  };
  // By hand: the wheel listeners of the page's library cannot keep the browser from zooming the page.
  useEffect(() => {
    const pad = canvas.current;
    const turned = (event: WheelEvent) => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      const at = sampleAt(event.clientX);
      const factor = event.deltaY > 0 ? WHEEL : 1 / WHEEL;
      onZoom({ from: at - (at - span.from) * factor, to: at + (span.to - at) * factor });
    };
    pad?.addEventListener('wheel', turned, { passive: false });
    return () => pad?.removeEventListener('wheel', turned);
  });
  const x = (sample: number) => FRAME.left + ((sample - span.from) / (span.to - span.from)) * columns;
  return (
    <div
      ref={ref}
      className="current-trace"
      role="img"
      aria-label={label}
      data-samples-each={shown && samplesEach(shown.view)}
      style={{ position: 'relative' }}
    >
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

/** Samples in each stretch drawn: 1 where they stand singly. */
function samplesEach(view: TraceView): number {
  return view.kind === 'samples' ? 1 : view.samples;
}

/** A span inside the trace, no narrower than can be seen. */
export function within(span: Span, samples: number): Span {
  const size = Math.min(Math.max(span.to - span.from, LEAST_SAMPLES), samples);
  const from = Math.min(Math.max(span.from, 0), samples - size);
  return { from, to: from + size };
}
