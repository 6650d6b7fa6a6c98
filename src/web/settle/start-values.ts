/** The form of a new session as it begins: usual values, with what is known of this emitter in their place. */
import type { SettleStart } from '../../contract/index.ts';
import { AXES, type Axis } from '../../core/settling/index.ts';

export interface AxisTyped {
  moves: boolean;
  now: string;
  low: string;
  high: string;
  step: string;
  approach: 'from below' | 'from above';
}

const USUAL: Record<Axis, AxisTyped> = {
  voltage_V: axis(true, '1200', '900', '2400', '10'),
  distance_mm: axis(true, '3', '1.5', '6', '0.1'),
  lateral_x_mm: axis(true, '0', '-2', '2', '0.05'),
  lateral_y_mm: axis(false, '0', '-2', '2', '0.05'),
  angle_deg: axis(false, '0', '0', '30', '1'),
};

/** Limits stay as they are: a limit is a person's to widen. */
export function startValues(start: SettleStart | undefined): Record<Axis, AxisTyped> {
  const typed = { ...USUAL };
  for (const name of AXES) {
    const now = start?.at[name];
    if (now !== undefined) typed[name] = { ...USUAL[name], now: String(now) };
  }
  // What nobody knows is typed, not guessed.
  if (start !== undefined && start.at.voltage_V === undefined)
    typed.voltage_V = { ...typed.voltage_V, now: '' };
  return typed;
}

function axis(moves: boolean, now: string, low: string, high: string, step: string): AxisTyped {
  return { moves, now, low, high, step, approach: 'from below' };
}
