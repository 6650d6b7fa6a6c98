/** When the plan advises no supply voltage, and why: what it would need lies where its advice has nothing to stand on. */
import type { Estimate } from '../estimate.ts';
import type { GradientPlan } from '../gradient/index.ts';
import type { BelowMinimum } from './below-minimum.ts';
import { figure } from './figure.ts';
import { type HeldPressure, shareWords } from './held-pressure.ts';
import type { PlanMeniscus } from './meniscus-of.ts';

/** Above this supply no voltage is advised. Judgement. */
export const HIGH_SUPPLY_V = 5000;

/** The advised voltage is the best of those that stay under that limit; the two lie on grids of about this step. */
const SAME_V = 0.01;

/** A voltage that is steady in fewer of the draws is no advice. Judgement. */
const LEAST_STEADY = 0.05;

export interface AdviceBasis {
  supply_V: Estimate;
  advised_V: Estimate;
  /** Share of the draws that are steady at the best voltage below the discharge limit. */
  best_probability: number;
  below_minimum: BelowMinimum;
  /** Where a discharge may begin at the tip; null where none is expected. */
  discharge_V: Estimate | null;
  meniscus: PlanMeniscus;
  held: HeldPressure | undefined;
}

export function adviceWithheld(basis: AdviceBasis): string | null {
  const { supply_V, advised_V, best_probability, below_minimum, discharge_V, meniscus, held } = basis;
  if (held?.verdict === 'no equilibrium')
    return `no equilibrium exists in ${shareWords(held.no_equilibrium_probability)}: the liquid bulges out and drips without field`;
  if (meniscus.kind === 'no equilibrium') return `no equilibrium exists: ${meniscus.reason}`;
  if (supply_V.value <= 0)
    return 'the inlet potential alone is above what the tip should see: no supply of this polarity brings it there';
  if (supply_V.value > HIGH_SUPPLY_V) return `more than ${HIGH_SUPPLY_V} V would be needed`;
  if (below_minimum.verdict === 'below') return 'the flow is below the minimum at any voltage';
  if (discharge_V !== null && discharge_V.low < (1 - SAME_V) * advised_V.value)
    return `a discharge may begin from ${figure(discharge_V.low)} V at the tip, below the ${figure(advised_V.value)} V a cone-jet would want`;
  if (best_probability < LEAST_STEADY)
    return `no voltage short of a discharge is steady in more than ${shareWords(LEAST_STEADY)}`;
  return null;
}

/** Why the gradient leaves no single supply to advise; null where it does. The ramp may still hold it. */
export function gradientWithheld(gradient: GradientPlan | undefined): string | null {
  if (gradient === undefined) return null;
  const { verdict, probability } = gradient.fixed;
  switch (verdict) {
    case 'no voltage':
      return 'no voltage below the discharge limit is steady anywhere in the elution';
    case 'flow below the minimum':
      return 'the flow is below the minimum along the elution';
    case 'no single voltage':
      return `no single voltage holds the elution (the best holds in ${Math.round(100 * probability)} %); see the ramp along the gradient`;
    case 'one voltage holds':
    case 'compromise':
      return null;
  }
}
