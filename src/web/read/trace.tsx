/**
 * The trace on the page: uPlot draws the thinned lines and takes the drag, an SVG above it carries the marks. A redraw thins
 * the series to two points per pixel column first; its cost is recorded as the performance measure `trace redraw`.
 */
import { useComputedColorScheme } from '@mantine/core';
import { useEffect, useMemo, useRef } from 'react';
import UPlot from 'uplot';
import type { RunReading } from '../../evidence/run-reading.ts';
import { decimate, type Span } from '../decimate.ts';
import { Hatch } from '../plan/drawing.tsx';
import { useWidth } from '../use-width.ts';
import { minutes } from '../words.ts';
import { eventMarks, markLabelX, trustMarks } from './marks.ts';
import { type LevelScale, levelRange, levelTicks, penLifts, timeTicks } from './trace-data.ts';

/** Plot area inside the drawing [px]: left holds the level labels, top the marks and the axis name, bottom the minutes and the strip. */
export const traceFrame = { left: 84, right: 28, top: 62, bottom: 42, strip: 40 } as const;

const heights = { level: 320, injection: 170 };

interface Props {
  reading: RunReading;
  group: number;
  scale: LevelScale;
  span: Span;
  onZoom: (span: Span) => void;
}

export function Trace({ reading, group, scale, span, onZoom }: Props) {
  const { ref, width } = useWidth();
  const g = reading.groups[group];
  const injection = useMemo(() => {
    const values = g?.series.injection_ms ?? [];
    return values.some((v) => v !== null) ? values : undefined;
  }, [g]);
  const lifts = useMemo(() => penLifts(reading, group), [reading, group]);
  if (!g) return null;
  const full = Math.round(width);
  const inner = full - traceFrame.left - traceFrame.right;
  const count = reading.events.filter((event) => event.group === group).length;
  return (
    <div ref={ref}>
      {inner > 80 && (
        <>
          <div
            className="trace"
            role="img"
            aria-label={`${scale.words} from ${minutes(span.from)} to ${minutes(span.to)} min with ${count} events marked; the same is listed as text below.`}
          >
            <Line
              time={g.series.time_s}
              value={scale.drawn}
              mode={scale.mode}
              span={span}
              lifts={lifts}
              width={full}
              height={heights.level}
              bottom={traceFrame.bottom}
              onZoom={onZoom}
            />
            <Marks reading={reading} group={group} span={span} width={full} words={scale.words} />
          </div>
          {injection && (
            <div
              className="trace"
              role="img"
              aria-label={`Injection time from ${minutes(span.from)} to ${minutes(span.to)} min.`}
            >
              <Line
                time={g.series.time_s}
                value={injection}
                mode="linear"
                span={span}
                lifts={lifts}
                width={full}
                height={heights.injection}
                bottom={traceFrame.bottom}
                top={34}
                onZoom={onZoom}
              />
              <svg className="over" width={full} height={heights.injection} aria-hidden="true">
                <text className="d-text" x={traceFrame.left} y={22}>
                  Injection time, ms
                </text>
              </svg>
            </div>
          )}
        </>
      )}
    </div>
  );
}

interface LineProps {
  time: readonly number[];
  value: ArrayLike<number | null>;
  mode: 'linear' | 'log';
  span: Span;
  lifts: readonly number[];
  width: number;
  height: number;
  bottom: number;
  top?: number;
  onZoom: (span: Span) => void;
}

function Line(props: LineProps) {
  const { width, height, top = traceFrame.top, bottom } = props;
  const box = useRef<HTMLDivElement>(null);
  const plot = useRef<UPlot | null>(null);
  const latest = useRef(props);
  const ranges = useRef({ low: 0, high: 1 });
  latest.current = props;
  const scheme = useComputedColorScheme('light');

  const draw = useRef(() => {
    const u = plot.current;
    if (!u) return;
    const { time, value, span, lifts, mode, width: full } = latest.current;
    const begin = performance.now();
    const thin = decimate(time, value, span, Math.max(50, full - traceFrame.left - traceFrame.right), lifts);
    const [low, high] = levelRange(mode, thin.low, thin.high);
    ranges.current = { low, high };
    // Outside a batch uPlot puts its drawing off to the end of the task, and the measure would miss it.
    u.batch(() => u.setData([thin.x, thin.y], true));
    performance.measure('trace redraw', { start: begin, end: performance.now() });
  });

  useEffect(() => {
    const host = box.current;
    if (!host) return;
    const u = new UPlot(
      {
        width,
        height,
        padding: [top, traceFrame.right, 0, 0],
        legend: { show: false },
        cursor: { y: false, points: { show: false }, drag: { x: true, y: false, setScale: false } },
        scales: {
          x: { time: false, range: () => [latest.current.span.from, latest.current.span.to] },
          y: { range: () => [ranges.current.low, ranges.current.high] },
        },
        axes: [
          {
            size: bottom,
            stroke: () => token('--ink'),
            font: "14px 'Segoe UI', Arial, sans-serif",
            grid: { stroke: () => token('--rule'), width: 1 },
            ticks: { stroke: () => token('--rule'), width: 1 },
            splits: () => timeTicks(latest.current.span, 2 + width / 110).map((t) => t.at),
            values: (_, at) => labelsAt(timeTicks(latest.current.span, 2 + width / 110), at, ' min'),
          },
          {
            size: traceFrame.left,
            stroke: () => token('--ink'),
            font: "14px 'Segoe UI', Arial, sans-serif",
            grid: { stroke: () => token('--rule'), width: 1 },
            ticks: { stroke: () => token('--rule'), width: 1 },
            splits: () => yTicks(latest.current.mode, ranges.current, height).map((t) => t.at),
            values: (_, at) => labelsAt(yTicks(latest.current.mode, ranges.current, height), at, ''),
          },
        ],
        series: [
          {},
          { stroke: () => token('--liquid'), width: 1.3, points: { show: false }, spanGaps: false },
        ],
        hooks: {
          setSelect: [
            (self) => {
              if (self.select.width < 4) return;
              const from = self.posToVal(self.select.left, 'x');
              const to = self.posToVal(self.select.left + self.select.width, 'x');
              self.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
              latest.current.onZoom({ from, to });
            },
          ],
        },
      },
      [[], []],
      host,
    );
    plot.current = u;
    draw.current();
    return () => {
      plot.current = null;
      u.destroy();
    };
  }, [width, height, top, bottom]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: each of these asks for a redraw
  useEffect(() => draw.current(), [props.time, props.value, props.span, props.mode, props.lifts, scheme]);

  return <div ref={box} style={{ height }} />;
}

function Marks(props: { reading: RunReading; group: number; span: Span; width: number; words: string }) {
  const { reading, group, span, width } = props;
  const inner = width - traceFrame.left - traceFrame.right;
  const plotHeight = heights.level - traceFrame.top - traceFrame.bottom;
  const stripTop = heights.level + 4;
  const height = heights.level + traceFrame.strip;
  const carries = group === reading.main_group;
  return (
    <>
      <div style={{ height: traceFrame.strip }} />
      <svg className="over" width={width} height={height} aria-hidden="true" data-marks>
        <defs>
          <Hatch id="event-hatch" className="d-hatch-solid" angle={45} step={7} />
          <Hatch id="trust-hatch" className="d-hatch" angle={-45} step={10} />
        </defs>
        <text className="d-text" x={6} y={20}>
          {props.words}
        </text>
        <g transform={`translate(${traceFrame.left} ${traceFrame.top})`}>
          {eventMarks(reading, group, span, inner).map((mark) => (
            <g key={`${mark.x1} ${mark.glyph}`}>
              <rect
                fill="url(#event-hatch)"
                opacity={0.75}
                x={mark.x1}
                y={0}
                width={mark.x2 - mark.x1}
                height={plotHeight}
              />
              <path
                className={mark.filled ? 'd-glyph' : 'd-event'}
                strokeWidth={2.5}
                d={mark.glyph}
                transform="translate(0 -17)"
              />
              {mark.label && (
                <text className="d-text" x={markLabelX(mark, inner)} y={-22} textAnchor="middle">
                  {mark.label}
                </text>
              )}
            </g>
          ))}
        </g>
        <g transform={`translate(${traceFrame.left} ${stripTop})`}>
          {trustMarks(reading, group, span, inner).map((mark) => (
            <g key={mark.x1}>
              <rect
                x={mark.x1}
                y={0}
                width={mark.x2 - mark.x1}
                height={28}
                fill="url(#trust-hatch)"
                opacity={0.45}
              />
              <path className="d-ink" d={`M${mark.x1} 0V28H${mark.x2}V0`} strokeWidth={1.6} />
              {mark.label && (
                <>
                  <rect
                    x={(mark.x1 + mark.x2) / 2 - mark.label.length * 4}
                    y={4}
                    width={mark.label.length * 8}
                    height={20}
                    fill="var(--sheet)"
                  />
                  <text className="d-text" x={(mark.x1 + mark.x2) / 2} y={19} textAnchor="middle">
                    {mark.label}
                  </text>
                </>
              )}
            </g>
          ))}
        </g>
        {carries && (
          <text className="d-text-soft" x={6} y={stripTop + 19}>
            to trust
          </text>
        )}
      </svg>
    </>
  );
}

function yTicks(mode: 'linear' | 'log', range: { low: number; high: number }, height: number) {
  return levelTicks(mode, range.low, range.high, height / 55);
}

function labelsAt(
  ticks: readonly { at: number; label: string }[],
  at: readonly number[],
  unit: string,
): string[] {
  return at.map((value) => {
    const tick = ticks.find((t) => Math.abs(t.at - value) <= 1e-9 * Math.max(1, Math.abs(value)));
    return tick ? `${tick.label}${unit}` : '';
  });
}

function token(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}
