/**
 * What a set-up's plan tells a settle session before the first reading: the onset at several distances as the supply sees it
 * (solved meniscus, plus the ohmic drop and the inlet's potential), a discharge limit where one is expected, and the onset's course
 * along the gradient. The radius prior stays wide: the plan's onset is known to a third at best.
 */
import { conditionOf, planFor } from '../plan/index.ts';
import type { Setup } from '../setup.ts';
import { MN_M, UM } from '../units.ts';
import { unitOnset } from '../window/index.ts';
import type { OnsetKnowledge, SettleSession } from './session.ts';

const DISTANCES = 5;

export interface FromPlan {
  onset: OnsetKnowledge;
  discharge_limit_V?: number;
  onset_course?: { time_min: number; factor: number }[];
}

export function fromSetup(setup: Setup, session: SettleSession, followGradient: boolean): FromPlan {
  const { gradient, ...isocratic } = setup;
  const plan = planFor(followGradient ? setup : isocratic);
  const condition = conditionOf(setup);
  const offset_V = plan.advised_supply_V.value - plan.advised_V.value;
  const rows = distancesOf(session).map((distance_mm) => {
    const { tip, pressure, liquid } = conditionOf({ ...setup, inlet: { ...setup.inlet, distance_mm } });
    const tension = liquid.surface_tension_mN_m.value * MN_M;
    const onset = unitOnset(tip, tip.radius, pressure) * Math.sqrt(tension);
    return { distance_mm, onset_V: Math.max(1, Math.round(onset + offset_V)) };
  });
  const discharge = plan.window.discharge_V;
  const course = followGradient && gradient !== undefined ? plan.gradient : undefined;
  const first = course?.onset_V.middle[0];
  return {
    onset: {
      rows,
      radius_um: condition.tip.radius / UM,
      surface_tension_mN_m: plan.liquid.surface_tension_mN_m.value,
    },
    ...(discharge === null ? {} : { discharge_limit_V: Math.floor(discharge.value + offset_V) }),
    ...(course === undefined || first === undefined
      ? {}
      : {
          onset_course: course.times_min.map((time_min, k) => ({
            time_min,
            factor: Number((course.onset_V.middle[k]! / first).toFixed(4)),
          })),
        }),
  };
}

function distancesOf({ axes, start }: SettleSession): number[] {
  const spec = axes.distance_mm;
  if (spec === undefined) return [start.distance_mm];
  return Array.from(
    { length: DISTANCES },
    (_, k) => spec.low * (spec.high / spec.low) ** (k / (DISTANCES - 1)),
  );
}
