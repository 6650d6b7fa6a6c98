/**
 * Probability that the flow is below the minimum of a steady cone-jet, over the conductivity's range (which holds 5 to
 * 30 µmol/L of stray salt) and over 0.26 to 1 of the charge-relaxation flow. Said as a warning only above 90 %.
 */
import { NL_MIN } from '../units.ts';
import { type Belief, factorOf, type WindowDraws } from '../window/index.ts';
import type { Condition } from './condition.ts';
import { figure } from './figure.ts';

export interface BelowMinimum {
  probability: number;
  verdict: 'below' | 'not decidable' | 'above';
  sentence: string;
}

export const SURE = 0.9;

export function belowMinimum(condition: Condition, belief: Belief, draws: WindowDraws): BelowMinimum {
  const { flow_nL_min: flow } = condition;
  let below = 0;
  for (let i = 0; i < draws.count; i++) {
    const own = flow.value * NL_MIN * factorOf(flow, belief.draws.flow[i]!);
    if (own < draws.minimum_flow_m3_s[i]!) below++;
  }
  const probability = below / draws.count;
  const set = `${figure(flow.value)} nL/min`;
  const percent = `${Math.round(100 * probability)} %`;
  if (probability > SURE)
    return {
      probability,
      verdict: 'below',
      sentence: `Flow ${set} is below the minimum for this liquid (${percent}): expect pulsation at any voltage.`,
    };
  if (probability < 1 - SURE)
    return {
      probability,
      verdict: 'above',
      sentence: `Flow ${set} is above the minimum for this liquid (${percent} that it is below).`,
    };
  return {
    probability,
    verdict: 'not decidable',
    sentence: `Whether ${set} is above the minimum flow is not decidable (${percent} that it is below): read the spray current at this composition.`,
  };
}
