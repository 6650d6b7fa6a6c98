/** Pieces that both views share: scale bars, dimension lines, hatching. */
import { niceBelow } from '../nice.ts';

export interface Point {
  x: number;
  y: number;
}

export function pathOf(points: readonly Point[], close = true): string {
  const steps = points.map((p, i) => `${i === 0 ? 'M' : 'L'}${p.x.toFixed(2)} ${p.y.toFixed(2)}`);
  return steps.join('') + (close ? 'Z' : '');
}

/** A bar whose length is exact and says so. `perUnit` is pixels per `unit`. */
export function ScaleBar(props: { x: number; y: number; perUnit: number; unit: string; most_px: number }) {
  const length = niceBelow(props.most_px / props.perUnit);
  const width = length * props.perUnit;
  return (
    <g data-scale-bar={`${length} ${props.unit}`}>
      <rect className="d-bar" x={props.x} y={props.y} width={width} height={5} />
      <text className="d-text" x={props.x} y={props.y - 7}>
        {Number(length.toPrecision(1))} {props.unit}
      </text>
    </g>
  );
}

export function Dimension(props: { from: Point; to: Point; label: string }) {
  const { from, to } = props;
  const upright = Math.abs(to.x - from.x) < Math.abs(to.y - from.y);
  const tick = upright ? { x: 5, y: 0 } : { x: 0, y: 5 };
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  return (
    <g>
      <line className="d-dim" x1={from.x} y1={from.y} x2={to.x} y2={to.y} />
      {[from, to].map((end) => (
        <line
          key={`${end.x},${end.y}`}
          className="d-dim"
          x1={end.x - tick.x}
          y1={end.y - tick.y}
          x2={end.x + tick.x}
          y2={end.y + tick.y}
        />
      ))}
      <text
        className="d-text"
        x={upright ? middle.x + 9 : middle.x}
        y={upright ? middle.y + 5 : middle.y - 7}
        textAnchor={upright ? 'start' : 'middle'}
      >
        {props.label}
      </text>
    </g>
  );
}

export function Hatch(props: { id: string; className: string; angle: number; step: number }) {
  return (
    <pattern
      id={props.id}
      width={props.step}
      height={props.step}
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${props.angle})`}
    >
      <line className={props.className} x1="0" y1="0" x2="0" y2={props.step} />
    </pattern>
  );
}
