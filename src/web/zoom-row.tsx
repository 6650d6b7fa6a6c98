/** Keys under a trace for those who do not drag: nearer, further, earlier, later, all of it. */
import { Button } from '@mantine/core';
import type { Span } from './decimate.ts';

export interface ZoomRowProps {
  span: Span;
  /** Each press nears or widens by this factor. */
  factor: number;
  /** Name of the key that shows everything. */
  whole: string;
  /** The span in words. */
  shown: string;
  onZoom: (span: Span) => void;
  onWhole: () => void;
}

export function ZoomRow({ span, factor, whole, shown, onZoom, onWhole }: ZoomRowProps) {
  const width = span.to - span.from;
  const middle = (span.from + span.to) / 2;
  return (
    <fieldset className="row" aria-label="Zoom" style={{ marginTop: '0.75rem' }}>
      <Button variant="default" onClick={() => onZoom(around(middle, width / factor))}>
        Zoom in
      </Button>
      <Button variant="default" onClick={() => onZoom(around(middle, width * factor))}>
        Zoom out
      </Button>
      <Button variant="default" onClick={() => onZoom(around(middle - width / 2, width))}>
        Earlier
      </Button>
      <Button variant="default" onClick={() => onZoom(around(middle + width / 2, width))}>
        Later
      </Button>
      <Button variant="default" onClick={onWhole}>
        {whole}
      </Button>
      <span role="status" data-span>
        Shown: {shown}
      </span>
    </fieldset>
  );
}

export function around(middle: number, width: number): Span {
  return { from: middle - width / 2, to: middle + width / 2 };
}
