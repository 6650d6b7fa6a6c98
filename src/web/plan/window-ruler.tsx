/** Onset, window and advised voltage on one ruler of volts: shapes and words first, each with its own range. */
import { memo } from 'react';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import { niceAbove } from '../nice.ts';
import { figure } from '../words.ts';
import { Hatch } from './drawing.tsx';
import { RulerMark } from './ruler-mark.tsx';
import { rulerRows } from './ruler-rows.ts';

const rowHeight = 58;
/** Room for one label on the ruler [px]. */
const TICK_PX = 80;
/** Narrower than this the labels are shortened [px]. */
const NARROW_PX = 480;

/** The ruler reaches no further than this share of the other marks' span for a discharge beyond them. */
const REACH = 1.35;

export interface WindowRulerProps {
  plan: Plan;
  setup: Setup;
  width: number;
  /** What the advice still waits for. */
  pending: string | undefined;
}

export const WindowRuler = memo(function WindowRuler({ plan, setup, width, pending }: WindowRulerProps) {
  const rows = rulerRows(plan, setup, width < NARROW_PX, pending);
  const marks = rows.flatMap(({ key, estimate }) => (estimate && key !== 'discharge' ? [estimate] : []));
  const near = [plan.window_low_V, plan.window_high_V, ...marks];
  const furthest = Math.max(...near.map((e) => e.high));
  const discharge = plan.window.discharge_V;
  const isNear = discharge !== null && discharge.low < REACH * furthest;
  const all = isNear ? [...near, { ...discharge, high: Math.min(discharge.high, REACH * furthest) }] : near;
  const least = Math.min(...all.map((e) => e.low));
  const most = Math.max(...all.map((e) => e.high));
  const pad = 0.06 * (most - least);
  const from = Math.max(0, least - pad);
  const to = most + pad;
  const inset = 14;
  const x = (volts: number) => inset + ((volts - from) / (to - from)) * (width - 2 * inset);
  const step = niceAbove(((to - from) * TICK_PX) / width);
  const ticks: number[] = [];
  for (let v = Math.ceil(from / step) * step; v <= to; v += step) ticks.push(v);
  const bottom = rows.length * rowHeight + 10;
  const height = bottom + 34;
  const words = `${rows.map((row) => row.label).join('; ')}.`;
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={`Voltages at the tip: ${words}`}
      data-view="window"
    >
      <defs>
        <Hatch id="ruler-window" className="d-hatch" angle={45} step={9} />
      </defs>
      {rows.map((row, i) => {
        const top = i * rowHeight;
        const y = top + 42;
        return (
          <g key={row.key}>
            <text className="d-text" x={inset} y={top + 22}>
              {row.label}
            </text>
            {row.estimate && (
              <RulerMark row={row.key} estimate={row.estimate} x={x} y={y} right={width - inset} />
            )}
            {row.key === 'window' && (
              <rect
                className="d-composed"
                fill="url(#ruler-window)"
                x={x(plan.window_low_V.value)}
                y={y - 9}
                width={Math.max(1, x(plan.window_high_V.value) - x(plan.window_low_V.value))}
                height={18}
              />
            )}
          </g>
        );
      })}
      <line className="d-dim" x1={inset} y1={bottom} x2={width - inset} y2={bottom} />
      {ticks.map((v) => (
        <g key={v}>
          <line className="d-dim" x1={x(v)} y1={bottom} x2={x(v)} y2={bottom + 7} />
          <text className="d-text-soft" x={x(v)} y={bottom + 24} textAnchor="middle">
            {figure(v, 4).replace(/\.0+$/, '')} V
          </text>
        </g>
      ))}
    </svg>
  );
});
