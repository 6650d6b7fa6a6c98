/**
 * The gap to scale, seen from the side: emitter, inlet, distance, offset, angle, all with one millimetre scale. The inlet's
 * outer shape is not in the set-up; its wall is drawn as a plain section. The plume is not drawn: nothing here computes it.
 */
import { memo, useRef } from 'react';
import type { Setup } from '../../core/setup.ts';
import { given } from '../words.ts';
import { useDrag } from './drag.ts';
import { Dimension, Hatch, type Point, pathOf, ScaleBar } from './drawing.tsx';
import { gapShape } from './gap-frame.ts';
import { Handle } from './handle.tsx';

const margin = { left: 16, right: 16, top: 40, bottom: 62 };

export interface GapViewProps {
  setup: Setup;
  onDistance?: (distance_mm: number) => void;
  width: number;
  height: number;
}

export const GapView = memo(function GapView({ setup, onDistance, width, height }: GapViewProps) {
  const { inlet } = setup;
  const distance = inlet.distance_mm;
  const { tip, emitter: outer, walls: wallsMm, front, wall } = gapShape(setup);
  const box = [
    ...outer,
    { x: front, y: inlet.bore_mm / 2 + wall },
    { x: front, y: -inlet.bore_mm / 2 - wall },
    { x: tip.x, y: 0 },
  ];
  const low = { x: Math.min(...box.map((p) => p.x)), y: Math.min(...box.map((p) => p.y)) };
  const high = { x: Math.max(...box.map((p) => p.x)), y: Math.max(...box.map((p) => p.y)) };
  const room = { x: width - margin.left - margin.right, y: height - margin.top - margin.bottom };
  const perMm = Math.min(room.x / (high.x - low.x), room.y / (high.y - low.y));
  const shift = {
    x: margin.left + (room.x - perMm * (high.x - low.x)) / 2,
    y: margin.top + (room.y - perMm * (high.y - low.y)) / 2,
  };
  const at = (p: Point): Point => ({
    x: shift.x + (p.x - low.x) * perMm,
    y: shift.y + (high.y - p.y) * perMm,
  });
  const face = at({ x: 0, y: 0 });
  const tipAt = at(tip);
  const start = useRef({ distance, perMm });
  const drag = useDrag(
    ({ dx }) => onDistance?.(rounded(start.current.distance - dx / start.current.perMm)),
    (steps) => onDistance?.(rounded(distance - 0.05 * steps)),
    () => {
      start.current = { distance, perMm };
    },
  );
  const under = Math.max(at(low).y + 22, tipAt.y + 22);
  const offset_px = Math.abs(inlet.lateral_offset_mm) * perMm;
  const walls = wallsMm.map((points) => points.map(at));
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role={onDistance ? 'group' : 'img'}
      aria-label={gapWords(setup)}
      data-view="gap"
      data-px-per-mm={perMm}
    >
      <defs>
        <Hatch id="gap-section" className="d-hatch-solid" angle={45} step={8} />
      </defs>
      <line
        className="d-axis"
        x1={at({ x: low.x, y: 0 }).x}
        y1={face.y}
        x2={at({ x: front, y: 0 }).x + 8}
        y2={face.y}
      />
      {walls.map((points, i) => (
        <g key={i === 0 ? 'above' : 'below'}>
          <path className="d-solid" d={pathOf(points)} />
          <path d={pathOf(points)} fill="url(#gap-section)" />
        </g>
      ))}
      <path className="d-solid" d={pathOf(outer.map(at))} />
      <rect className="d-ink" x={tipAt.x - 7} y={tipAt.y - 7} width={14} height={14} />
      <line className="d-ink" x1={tipAt.x + 7} y1={tipAt.y - 7} x2={tipAt.x + 22} y2={tipAt.y - 22} />
      <text className="d-text" x={tipAt.x + 25} y={tipAt.y - 22} fontWeight="700">
        A
      </text>
      <Dimension
        from={{ x: tipAt.x, y: under }}
        to={{ x: face.x, y: under }}
        label={`distance ${given(distance)} mm`}
      />
      <line
        className="d-dim"
        x1={tipAt.x}
        y1={tipAt.y + 10}
        x2={tipAt.x}
        y2={under + 6}
        strokeDasharray="2 3"
      />
      {offset_px >= 4 && (
        <Dimension
          from={{ x: tipAt.x, y: tipAt.y }}
          to={{ x: tipAt.x, y: face.y }}
          label={`offset ${given(inlet.lateral_offset_mm)} mm`}
        />
      )}
      <text className="d-text-soft" x={margin.left} y={24}>
        Gap, from the side{inlet.angle_deg > 0 ? `; emitter at ${given(inlet.angle_deg)}°` : ''}
      </text>
      <text
        className="d-text-soft"
        x={at({ x: front, y: 0 }).x}
        y={walls[0]?.[3] ? walls[0][3].y - 8 : 0}
        textAnchor="end"
      >
        inlet
      </text>
      {onDistance && (
        <Handle
          x={tipAt.x}
          y={tipAt.y}
          label="Tip, drag along the axis"
          value={distance}
          low={0.05}
          high={50}
          text={`${given(distance)} mm`}
          drag={drag}
        />
      )}
      <ScaleBar
        x={margin.left}
        y={height - 14}
        perUnit={perMm}
        unit="mm"
        most_px={Math.min(150, width / 3)}
      />
    </svg>
  );
});

/** Two decimals of a millimetre, never nearer than a set-up may stand. */
function rounded(mm: number): number {
  return Math.min(50, Math.max(0.05, Math.round(mm * 100) / 100));
}

export function gapWords(setup: Setup): string {
  const { inlet, emitter } = setup;
  return `The gap to scale: an emitter of ${given(emitter.shank_diameter_um)} µm shank and ${given(emitter.rim_um)} µm rim, its tip ${given(inlet.distance_mm)} mm before an inlet of ${given(inlet.bore_mm)} mm bore, ${given(inlet.lateral_offset_mm)} mm off its axis, at ${given(inlet.angle_deg)} degrees.`;
}
