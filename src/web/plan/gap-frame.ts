/** The gap in millimetres, the inlet's mouth at the origin: emitter and inlet walls as points, for the view and its data. */
import type { Setup } from '../../core/setup.ts';
import type { Point } from './drawing.tsx';
import { emitterOutline } from './outline.ts';

export interface GapShape {
  tip: Point;
  /** Outer outline of the emitter, closed. */
  emitter: Point[];
  /** The inlet's wall above and below its bore, closed. */
  walls: [Point[], Point[]];
  /** How far the inlet is shown behind its mouth. */
  front: number;
  wall: number;
}

export function gapShape({ inlet, emitter }: Setup): GapShape {
  const distance = inlet.distance_mm;
  const wall = Math.max(0.5 * inlet.bore_mm, 0.12 * distance);
  const front = Math.max(0.45 * distance, 0.8 * inlet.bore_mm);
  const half = inlet.bore_mm / 2;
  const shown = Math.min(
    emitter.free_length_mm,
    Math.max(1.1 * distance, (3 * emitter.shank_diameter_um) / 1000),
  );
  const tip: Point = { x: -distance, y: inlet.lateral_offset_mm };
  const angle = (inlet.angle_deg * Math.PI) / 180;
  // Back along the emitter: to the left and, with an angle, up.
  const place = (along: number, across: number): Point => ({
    x: tip.x - along * Math.cos(angle) - across * Math.sin(angle),
    y: tip.y + along * Math.sin(angle) - across * Math.cos(angle),
  });
  const outline = emitterOutline(emitter, shown);
  const wallAt = (side: number): Point[] => [
    { x: 0, y: side * half },
    { x: front, y: side * half },
    { x: front, y: side * (half + wall) },
    { x: 0, y: side * (half + wall) },
  ];
  return {
    tip,
    emitter: [
      ...outline.map((p) => place(p.along, p.half)),
      ...outline.toReversed().map((p) => place(p.along, -p.half)),
    ],
    walls: [wallAt(1), wallAt(-1)],
    front,
    wall,
  };
}
