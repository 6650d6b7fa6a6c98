/** The emitter's outer outline as half-widths along its axis, from the tip backwards, in millimetres. */
import type { EmitterSpec } from '../../core/setup.ts';

export interface OutlinePoint {
  along: number;
  half: number;
}

export function emitterOutline(emitter: EmitterSpec, shown_mm: number): OutlinePoint[] {
  const tip = emitter.rim_um / 2000;
  const shank = emitter.shank_diameter_um / 2000;
  const slope = Math.tan((emitter.taper_half_angle_deg * Math.PI) / 180);
  const taper = slope > 0 ? (shank - tip) / slope : 0;
  if (taper >= shown_mm) {
    return [
      { along: 0, half: tip },
      { along: shown_mm, half: tip + shown_mm * slope },
    ];
  }
  return [
    { along: 0, half: tip },
    { along: taper, half: shank },
    { along: shown_mm, half: shank },
  ];
}
