/** Where a session may go: the person's limits and steps, the supply's, and every discharge met, which is never come near again. */
import type { OnsetLaw } from './onset-law.ts';
import { AXES, type Axis, type SettlePoint, type SettleSession } from './session.ts';

export interface Limits {
  /** Highest voltage at this distance [V]. */
  most_V(distance_mm: number): number;
  /** Nearest allowed point on the steps. */
  allowed(point: SettlePoint): SettlePoint;
}

/** One stays this share under a voltage at which a discharge was met. Judgement. */
const BELOW_DISCHARGE = 0.95;

/** What no raise may pass, wherever the tip stands [V]. */
export function notAbove_V({ supply_limit_V, discharge_limit_V, axes }: SettleSession): number {
  const others = [discharge_limit_V, axes.voltage_V?.high].map((limit) => limit ?? Number.POSITIVE_INFINITY);
  return Math.min(supply_limit_V, ...others);
}

export function limitsOf(session: SettleSession, law: OnsetLaw): Limits {
  const met = session.readings
    .filter(({ seen }) => seen?.includes('discharge'))
    .map(({ at }) => ({ V: at.voltage_V, base: law.base(at.distance_mm, 0) }));
  const fixed = Math.min(
    session.supply_limit_V,
    session.discharge_limit_V ?? Number.POSITIVE_INFINITY,
    session.axes.voltage_V?.high ?? session.start.voltage_V,
  );
  const most_V = (distance_mm: number): number => {
    let most = fixed;
    const base = law.base(distance_mm, 0);
    // Closer to the inlet a discharge comes earlier; further away no more voltage is allowed than where it was met.
    for (const one of met)
      most = Math.min(most, BELOW_DISCHARGE * one.V * Math.min(1, Math.exp(base - one.base)));
    return most;
  };
  const onStep = (axis: Axis, value: number, high: number): number => {
    const spec = session.axes[axis];
    if (spec === undefined)
      return axis === 'voltage_V' ? Math.min(session.start[axis], high) : session.start[axis];
    const origin = session.start[axis];
    const most = Math.min(spec.high, high);
    const within = Math.min(most, Math.max(spec.low, value));
    let k = Math.round((within - origin) / spec.step);
    if (origin + k * spec.step > most + ROUNDING) k = Math.floor((most - origin) / spec.step + ROUNDING);
    if (origin + k * spec.step < spec.low - ROUNDING)
      k = Math.ceil((spec.low - origin) / spec.step - ROUNDING);
    const snapped = Number((origin + k * spec.step).toFixed(DECIMALS));
    // No step lies inside the limits: a discharge limit below the lowest one is obeyed all the same.
    return snapped > most ? Number(most.toFixed(DECIMALS)) : snapped;
  };
  return {
    most_V,
    allowed: (point) => {
      const to = { ...point };
      for (const axis of AXES)
        if (axis !== 'voltage_V') to[axis] = onStep(axis, point[axis], Number.POSITIVE_INFINITY);
      to.voltage_V = onStep('voltage_V', point.voltage_V, most_V(to.distance_mm));
      return to;
    },
  };
}

const ROUNDING = 1e-9;
const DECIMALS = 6;
