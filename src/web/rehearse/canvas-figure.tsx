/** A canvas that is drawn after each piece of bench time, at most so often, with words for those who cannot see it. */
import { useComputedColorScheme } from '@mantine/core';
import { type ReactNode, useEffect, useRef } from 'react';
import type { Picture } from '../../core/picture.ts';
import { useWidth } from '../use-width.ts';
import { paint } from './canvas-marks.ts';
import type { Rehearsal } from './use-rehearsal.ts';

export function CanvasFigure(props: {
  rehearsal: Rehearsal;
  label: string;
  height: number;
  /** Least time between two drawings [ms]. */
  every_ms?: number;
  draw: (width: number, height: number) => Picture | undefined;
  children: ReactNode;
}) {
  const { rehearsal, height, draw, every_ms = 0 } = props;
  const { ref, width } = useWidth();
  const canvas = useRef<HTMLCanvasElement>(null);
  const { onFrame, start, memory } = rehearsal;
  const scheme = useComputedColorScheme('light');
  // A held bench, too, takes on the other scheme's colours.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the scheme is a trigger
  useEffect(() => {
    if (start === undefined || width < 50) return undefined;
    let last = 0;
    // Read by the page's measurement.
    let drawings = 0;
    const redraw = () => {
      const time = performance.now();
      if (!canvas.current || time - last < every_ms) return;
      last = time;
      const picture = draw(Math.round(width), height);
      if (picture) paint(canvas.current, picture);
      drawings++;
      canvas.current.dataset.drawings = String(drawings);
      canvas.current.dataset.benchS = memory.time_s.toFixed(3);
    };
    redraw();
    return onFrame(redraw);
  }, [onFrame, start, memory, width, height, draw, every_ms, scheme]);
  return (
    <figure className="sheet">
      <div ref={ref} style={{ minHeight: height }}>
        <canvas
          ref={canvas}
          role="img"
          aria-label={props.label}
          style={{ display: 'block', width: '100%', height }}
        />
      </div>
      <figcaption>{props.children}</figcaption>
    </figure>
  );
}
