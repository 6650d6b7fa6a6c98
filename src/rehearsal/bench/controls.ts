/** What a person turns on the rehearsed bench, with range and step of each. Nothing here reaches a real supply. */
import { inputError } from '../../core/errors.ts';

export interface BenchControls {
  /** Magnitude at the supply, against the inlet. */
  voltage_V: number;
  flow_nL_min: number;
  distance_mm: number;
  /** Tip off the inlet's axis, as the stage shows it. */
  offset_mm: number;
  high_voltage: boolean;
}

export type Turned = 'voltage_V' | 'flow_nL_min' | 'distance_mm' | 'offset_mm';

export const CONTROL_RANGE: Record<Turned, { low: number; high: number; step: number; unit: string }> = {
  voltage_V: { low: 0, high: 3500, step: 10, unit: 'V' },
  flow_nL_min: { low: 0, high: 1000, step: 10, unit: 'nL/min' },
  distance_mm: { low: 1, high: 8, step: 0.1, unit: 'mm' },
  offset_mm: { low: -3, high: 3, step: 0.1, unit: 'mm' },
};

export const TURNED = Object.keys(CONTROL_RANGE) as Turned[];

/** Held in range; a rehearsal never refuses a slider. */
export function heldInRange(controls: BenchControls): BenchControls {
  const held = { ...controls };
  for (const name of TURNED) {
    const { low, high } = CONTROL_RANGE[name];
    const value = controls[name];
    held[name] = Number.isFinite(value) ? Math.min(high, Math.max(low, value)) : low;
  }
  return held;
}

/** Throws where a number from outside has no place on the bench. */
export function checkedControl(name: Turned, value: number): number {
  const { low, high, unit } = CONTROL_RANGE[name];
  if (!(value >= low && value <= high))
    throw inputError('out of range', name, `${value} ${unit}`, `${low} to ${high} ${unit}`);
  return value;
}
