import { AXES, type Axis, type SettleSession } from '../../core/settling/index.ts';

export const AXIS_NAMES: Record<Axis, { name: string; unit: string }> = {
  voltage_V: { name: 'Voltage', unit: 'V' },
  distance_mm: { name: 'Distance to the inlet', unit: 'mm' },
  lateral_x_mm: { name: 'Sideways, x', unit: 'mm' },
  lateral_y_mm: { name: 'Up, y', unit: 'mm' },
  angle_deg: { name: 'Angle', unit: '°' },
};

export function movable(session: Pick<SettleSession, 'axes'>): Axis[] {
  return AXES.filter((axis) => session.axes[axis] !== undefined);
}
