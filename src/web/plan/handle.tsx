import type { DragHandlers } from './drag.ts';

/** A round grip of 44 px that is dragged, or moved by the arrow keys. */
export function Handle(props: {
  x: number;
  y: number;
  label: string;
  value: number;
  low: number;
  high: number;
  text: string;
  drag: DragHandlers;
}) {
  return (
    <g
      role="slider"
      tabIndex={0}
      aria-label={props.label}
      aria-valuenow={props.value}
      aria-valuemin={props.low}
      aria-valuemax={props.high}
      aria-valuetext={props.text}
      className="grip"
      {...props.drag}
    >
      <circle cx={props.x} cy={props.y} r={22} fill="transparent" />
      <circle className="grip-mark" cx={props.x} cy={props.y} r={8} />
    </g>
  );
}
