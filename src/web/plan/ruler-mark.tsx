/** One estimate on the ruler: its range as a line, its value as a shape; what lies beyond the ruler as an arrow to its edge. */
import type { Estimate } from '../../core/estimate.ts';
import type { RulerRow } from './ruler-rows.ts';

export interface RulerMarkProps {
  row: RulerRow['key'];
  estimate: Estimate;
  x: (volts: number) => number;
  y: number;
  /** The ruler's right end. */
  right: number;
}

export function RulerMark({ row, estimate, x, y, right }: RulerMarkProps) {
  const from = Math.min(x(estimate.low), right);
  const to = Math.min(x(estimate.high), right);
  const at = x(estimate.value);
  const isCut = x(estimate.high) > right + 0.5;
  return (
    <g data-mark={row}>
      <line className="d-ink" x1={Math.min(from, right - ARROW_PX)} y1={y} x2={to} y2={y} />
      {from < right && <line className="d-ink" x1={from} y1={y - 6} x2={from} y2={y + 6} />}
      {isCut ? (
        <path className="d-ink" d={`M${right - 9} ${y - 6}L${right} ${y}L${right - 9} ${y + 6}`} />
      ) : (
        <line className="d-ink" x1={to} y1={y - 6} x2={to} y2={y + 6} />
      )}
      {at <= right && <path className="d-bar" d={glyph(row, at, y)} />}
    </g>
  );
}

/** Length of the stub that points to what lies beyond the ruler. */
const ARROW_PX = 40;

/** Diamond for onset, triangle for advised, barred gate for the discharge limit, square for the tip. */
function glyph(row: RulerRow['key'], x: number, y: number): string {
  if (row === 'onset') return `M${x} ${y - 9}L${x + 9} ${y}L${x} ${y + 9}L${x - 9} ${y}Z`;
  if (row === 'advised') return `M${x} ${y + 9}L${x + 9} ${y - 8}L${x - 9} ${y - 8}Z`;
  if (row === 'discharge') return `M${x - 7} ${y - 10}h4v20h-4ZM${x + 3} ${y - 10}h4v20h-4Z`;
  return `M${x - 7} ${y - 7}h14v14h-14Z`;
}
