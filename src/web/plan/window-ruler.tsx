/** Onset, window and advised voltage on one ruler of volts: shapes and words first, each with its own range. */
import type { Estimate } from '../../core/estimate.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import { niceAbove } from '../nice.ts';
import { figure, rangeText, withUnit } from '../words.ts';
import { Hatch } from './drawing.tsx';

const rowHeight = 58;
/** Room for one label on the ruler [px]. */
const TICK_PX = 80;
/** Narrower than this the labels are shortened [px]. */
const NARROW_PX = 480;

interface Row {
  key: string;
  label: string;
  estimate?: Estimate;
}

export function WindowRuler({ plan, setup, width }: { plan: Plan; setup: Setup; width: number }) {
  const isNarrow = width < NARROW_PX;
  const stated = setup.voltage.supply_V !== undefined;
  const rows: Row[] = [
    {
      key: 'onset',
      label: `onset ${withUnit(figure(plan.onset_V.value), 'V')} (${rangeText(plan.onset_V, 'V')})`,
      estimate: plan.onset_V,
    },
    {
      key: 'window',
      label: `window ${figure(plan.window_low_V.value)} to ${withUnit(figure(plan.window_high_V.value), 'V')}, ${firstWord(plan.window_high_V.basis)}`,
    },
    {
      key: 'advised',
      label: `${isNarrow ? 'advised' : 'advised at the tip'} ${withUnit(figure(plan.advised_V.value), 'V')} (${rangeText(plan.advised_V, 'V')})`,
      estimate: plan.advised_V,
    },
  ];
  if (stated && plan.tip_V)
    rows.push({
      key: 'tip',
      label: `${isNarrow ? 'tip now' : 'tip at the stated supply'} ${withUnit(figure(plan.tip_V.value), 'V')} (${rangeText(plan.tip_V, 'V')})`,
      estimate: plan.tip_V,
    });
  const all = [
    plan.window_low_V,
    plan.window_high_V,
    ...rows.flatMap((row) => (row.estimate ? [row.estimate] : [])),
  ];
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
            {row.estimate ? (
              <>
                <line className="d-ink" x1={x(row.estimate.low)} y1={y} x2={x(row.estimate.high)} y2={y} />
                <line
                  className="d-ink"
                  x1={x(row.estimate.low)}
                  y1={y - 6}
                  x2={x(row.estimate.low)}
                  y2={y + 6}
                />
                <line
                  className="d-ink"
                  x1={x(row.estimate.high)}
                  y1={y - 6}
                  x2={x(row.estimate.high)}
                  y2={y + 6}
                />
                <path className="d-bar" d={glyph(row.key, x(row.estimate.value), y)} />
              </>
            ) : (
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
}

/** 'judgement: several jets from …' → 'judgement'. */
function firstWord(basis: string): string {
  return basis.split(':')[0] ?? basis;
}

/** Diamond for onset, triangle for advised, square for the tip. */
function glyph(key: string, x: number, y: number): string {
  if (key === 'onset') return `M${x} ${y - 9}L${x + 9} ${y}L${x} ${y + 9}L${x - 9} ${y}Z`;
  if (key === 'advised') return `M${x} ${y + 9}L${x + 9} ${y - 8}L${x - 9} ${y - 8}Z`;
  return `M${x - 7} ${y - 7}h14v14h-14Z`;
}
