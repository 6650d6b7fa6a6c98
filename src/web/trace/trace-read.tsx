/** A trace as read: the canvas with its zoom, what the file said, what was wrong with it. */
import { type ReactNode, useCallback, useState } from 'react';
import type { Span } from '../decimate.ts';
import { Sentences } from '../sentences.tsx';
import { count, figure } from '../words.ts';
import { ZoomRow } from '../zoom-row.tsx';
import { RegimePart, Verdict } from './regime-part.tsx';
import type { TraceView } from './sample-store.ts';
import { timeUnit } from './time-unit.ts';
import { TraceCanvas, within } from './trace-canvas.tsx';
import type { Stair } from './trace-drawing.ts';
import type { TraceOpened } from './trace-worker.ts';

export interface TraceReadProps {
  name: string;
  opened: TraceOpened;
  view: (from: number, to: number, columns: number) => Promise<TraceView | undefined>;
  /** Voltages of a walk that was read on it. */
  stairs: readonly Stair[];
  /** What is read on the trace by hand: its walks. */
  children: ReactNode;
}

export function TraceRead({ name, opened, view, stairs, children }: TraceReadProps) {
  const { head, end, finest, reading, resistor } = opened;
  const whole: Span = { from: 0, to: end.samples };
  const [span, setSpan] = useState(whole);
  const [trouble, setTrouble] = useState('');
  const zoom = useCallback(
    (next: Span) =>
      setSpan((now) => {
        const wanted = within(next, end.samples);
        return wanted.from === now.from && wanted.to === now.to ? now : wanted;
      }),
    [end.samples],
  );
  const show = useCallback(
    (start_s: number, end_s: number) => {
      const from = (start_s - head.start_s) * head.rate_Hz;
      const to = (end_s - head.start_s) * head.rate_Hz;
      const pad = Math.max(20, 0.3 * (to - from));
      zoom({ from: from - pad, to: to + pad });
    },
    [head, zoom],
  );
  const seconds = (sample: number) => head.start_s + sample / head.rate_Hz;
  const unit = timeUnit((span.to - span.from) / head.rate_Hz);
  const shown = `${Number((seconds(span.from) / unit.seconds).toPrecision(7))} to ${Number((seconds(span.to) / unit.seconds).toPrecision(7))} ${unit.name}`;
  return (
    <section className="section" aria-label="Trace">
      <h2>
        {name} {head.invented && <span className="stamp">INVENTED DATA</span>}
      </h2>
      <p>
        {count(end.samples)} samples at {figure(head.rate_Hz)} Hz ({head.rate_from}),{' '}
        {figure(end.samples / head.rate_Hz)} s; column {head.channels[0]?.name} in {head.channels[0]?.unit}.
      </p>
      <Verdict reading={reading} />
      <TraceCanvas
        rate_Hz={head.rate_Hz}
        start_s={head.start_s}
        span={span}
        view={view}
        onZoom={zoom}
        onTrouble={setTrouble}
        stairs={stairs}
        label={`Current from ${shown}`}
      />
      <ZoomRow
        span={span}
        factor={4}
        whole="Whole trace"
        shown={shown}
        onZoom={zoom}
        onWhole={() => zoom(whole)}
      />
      <p className="soft" style={{ marginTop: '0.5rem' }}>
        Drag across the trace to zoom there. Ctrl and the wheel, or a pinch on a touchpad, zoom about the
        pointer.
      </p>
      <p role="status" className="fault">
        {trouble}
      </p>
      {finest > 1 && (
        <p className="soft">
          A table as long as this one is not kept sample by sample: the view ends at {finest} samples
          together. As raw samples with a sidecar, or as WAV, it could be seen singly.
        </p>
      )}
      {children}
      <Sentences title="Resistor and meter" lines={resistor?.sentences ?? []} />
      <Sentences title="About the file" lines={fileFaults(opened)} />
      <RegimePart name={name} reading={reading} onShow={show} />
    </section>
  );
}

function fileFaults({ end }: TraceOpened): string[] {
  const said: string[] = [];
  if (end.missing > 0) said.push(`${count(end.missing)} samples hold no number; they are left out.`);
  if (end.gap_count > 0)
    said.push(`${count(end.gap_count)} gaps in time; the first at ${figure(end.gaps[0]?.at_s ?? 0)} s.`);
  return said;
}
