/**
 * The plan against what is set: where the voltage stands in the window, whether the flow suffices, whether the distance is
 * a usual one. Expected against set, never seen: a wetted or broken tip has another window, and its own observables.
 */
import { figure } from '../../core/plan/index.ts';
import type { PlanSeen } from './context.ts';
import { type Finding, finding } from './finding.ts';

const FROM = 'plan';
/** Distances of nanoelectrospray (common practice: about 2 to 3 mm, 1 to 5 mm met). */
const NEAR_MM = 1;
const FAR_MM = 5;
const DISTANCE = 0.9;

export function planFindings({ plan, setup }: PlanSeen): Finding[] {
  return [voltage(plan), flow(plan), distance(setup)].filter((one) => one !== undefined);
}

function voltage({ at_supply, onset_V, window_high_V }: PlanSeen['plan']): Finding | undefined {
  if (at_supply === undefined) return undefined;
  const { chances, supply_V } = at_supply;
  const below = chances['no spray'] + chances['drips or pulsates'];
  const above = chances.tilted + chances['several jets'] + chances.discharge;
  const inside = chances['steady cone-jet'] + chances['below minimum flow'];
  const percent = (p: number) => `${Math.round(100 * p)} %`;
  return finding(
    'plan-voltage',
    { below, above, inside },
    1,
    FROM,
    `plan: ${supply_V} V at the supply is below the window by ${percent(below)}, inside by ${percent(inside)}, above by ${percent(above)} (expected onset ${figure(onset_V.value)} V, several jets from ${figure(window_high_V.value)} V, at the tip).`,
  );
}

function flow({ below_minimum }: PlanSeen['plan']): Finding {
  const { probability, sentence } = below_minimum;
  return finding('plan-flow', { below: probability, enough: 1 - probability }, 1, FROM, `plan: ${sentence}`);
}

function distance({ inlet }: PlanSeen['setup']): Finding {
  const { distance_mm } = inlet;
  const outcome = distance_mm < NEAR_MM ? 'near' : distance_mm > FAR_MM ? 'far' : 'usual';
  const words =
    outcome === 'usual' ? 'a usual distance' : `${outcome === 'near' ? 'nearer' : 'further'} than usual`;
  return finding('plan-distance', outcome, DISTANCE, FROM, `plan: ${distance_mm} mm to the inlet, ${words}.`);
}
