/** Rim at the face, taper at the back end of what is shown: dragged by the scale at which they were taken. */
import { useRef } from 'react';
import type { Setup } from '../../core/setup.ts';
import { given } from '../words.ts';
import { useDrag } from './drag.ts';
import { Handle } from './handle.tsx';
import type { TipFrame } from './tip-frame.ts';

export interface TipHandlesProps {
  setup: Setup;
  frame: TipFrame;
  /** Half the emitter's width at the back end of the view [µm]. */
  halfAtBack: number;
  onRim: (rim_um: number) => void;
  onTaper: (half_angle_deg: number) => void;
}

export function TipHandles({ setup, frame, halfAtBack, onRim, onTaper }: TipHandlesProps) {
  const { rim_um, bore_um, shank_diameter_um, taper_half_angle_deg } = setup.emitter;
  const { at, perUm, back } = frame;
  const start = useRef({ rim_um, half: halfAtBack, back, perUm });
  const take = () => {
    start.current = { rim_um, half: halfAtBack, back, perUm };
  };
  const setRim = (um: number) => onRim(rounded(Math.min(shank_diameter_um, Math.max(bore_um, um))));
  const setTaper = (deg: number) => onTaper(rounded(Math.min(45, Math.max(0, deg))));
  const rim = useDrag(
    ({ dy }) => setRim(start.current.rim_um + (2 * dy) / start.current.perUm),
    (steps) => setRim(rim_um + 0.5 * steps),
    take,
  );
  const taper = useDrag(
    ({ dy }) => {
      const from = start.current;
      const rise = from.half + dy / from.perUm - rim_um / 2;
      setTaper((Math.atan(rise / from.back) * 180) / Math.PI);
    },
    (steps) => setTaper(taper_half_angle_deg + 0.5 * steps),
    take,
  );
  const rimAt = at(0, -rim_um / 2);
  const taperAt = at(-back, -halfAtBack);
  return (
    <>
      <Handle
        x={rimAt.x}
        y={rimAt.y}
        label="Rim, drag"
        value={rim_um}
        low={bore_um}
        high={3000}
        text={`${given(rim_um)} µm`}
        drag={rim}
      />
      <Handle
        x={taperAt.x + 12}
        y={taperAt.y}
        label="Taper half-angle, drag"
        value={taper_half_angle_deg}
        low={0}
        high={45}
        text={`${given(taper_half_angle_deg)}°`}
        drag={taper}
      />
    </>
  );
}

function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
