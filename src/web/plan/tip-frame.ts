/** Where the tip view puts things: what it must hold, its scale, and places in pixels. */
import type { EmitterSpec, Setup } from '../../core/setup.ts';
import type { Point } from './drawing.tsx';

export const tipMargin = { left: 12, right: 12, top: 40, bottom: 44 };

export interface TipFrame {
  perUm: number;
  /** Behind the tip, before it, and to each side [µm]. */
  back: number;
  front: number;
  half: number;
  midY: number;
  /** Along the axis from the tip's face and off it [µm] to pixels. */
  at: (x: number, y: number) => Point;
}

/** `perUm`: a scale shared with another view, where two are to be compared. */
export function tipFrame(setup: Setup, width: number, height: number, perUm?: number): TipFrame {
  const extent = tipExtent(setup);
  const room = {
    x: width - tipMargin.left - tipMargin.right,
    y: height - tipMargin.top - tipMargin.bottom,
  };
  const scale = perUm ?? Math.min(room.x / (extent.back + extent.front), room.y / (2 * extent.half));
  const tipX = tipMargin.left + (room.x - (extent.back + extent.front) * scale) / 2 + extent.back * scale;
  const midY = tipMargin.top + room.y / 2;
  return {
    ...extent,
    perUm: scale,
    midY,
    at: (x, y) => ({ x: tipX + x * scale, y: midY - y * scale }),
  };
}

/** Flooded up to the shank, the contact line lies outside this view: the cone is drawn on the rim, with a film behind it. */
export function drawnContact_um(emitter: EmitterSpec): number {
  return (emitter.wets === 'bore' ? emitter.bore_um : emitter.rim_um) / 2;
}

function tipExtent({ emitter }: Setup): { back: number; front: number; half: number } {
  const contact = drawnContact_um(emitter);
  const rim = emitter.rim_um / 2;
  return { back: 2.2 * Math.max(rim, contact), front: 3 * contact, half: 1.5 * Math.max(rim, contact) };
}
