/** All numbers of a plan in reading order. */
import type { Estimate } from '../../core/estimate.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { keyParts } from '../words.ts';

export interface PlanNumber {
  key: string;
  label: string;
  estimate: Estimate;
}

const order: [Exclude<keyof Plan, 'liquid'>, string][] = [
  ['onset_V', 'Onset'],
  ['window_low_V', 'Window begins'],
  ['window_high_V', 'Window ends'],
  ['advised_V', 'Advised at the tip'],
  ['advised_supply_V', 'Advised at the supply'],
  ['tip_V', 'Tip voltage'],
  ['current_nA', 'Spray current'],
  ['jet_diameter_nm', 'Jet diameter'],
  ['droplet_diameter_nm', 'First droplets, diameter'],
  ['flow_nL_min', 'Flow rate'],
  ['minimum_flow_nL_min', 'Minimum flow'],
  ['ohmic_resistance_Mohm', 'Resistance of the liquid column'],
  ['ohmic_drop_V', 'Lost in the liquid column'],
  ['feed_pressure_bar', 'Feed pressure'],
];

export function planNumbers(plan: Plan): PlanNumber[] {
  const numbers: PlanNumber[] = [];
  for (const [key, label] of order) {
    const estimate = plan[key];
    if (isEstimate(estimate)) numbers.push({ key, label, estimate });
  }
  for (const [key, estimate] of Object.entries(plan.liquid)) {
    if (isEstimate(estimate)) numbers.push({ key, label: `Liquid: ${keyParts(key).name}`, estimate });
  }
  return numbers;
}

export function isEstimate(value: unknown): value is Estimate {
  return (
    typeof value === 'object' &&
    value !== null &&
    'value' in value &&
    'low' in value &&
    'high' in value &&
    'basis' in value &&
    'valid' in value
  );
}
