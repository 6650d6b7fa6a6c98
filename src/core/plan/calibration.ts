/** What observations did to the unknowns, before and after, and whether the plan could explain them at all. */

import { InputError, inputError } from '../errors.ts';
import type { Estimate } from '../estimate.ts';
import type { Setup } from '../setup.ts';
import { UM } from '../units.ts';
import {
  type Belief,
  calibrated,
  conductivityFactor,
  contactRadiusOf,
  LITTLE_SUPPORT,
  type Observation,
  type ObservedAt,
  pressureOf,
  priorBelief,
  SIBLING_SPREAD,
  windowDraws,
} from '../window/index.ts';
import { type Condition, conditionOf } from './condition.ts';
import { figure } from './figure.ts';
import { fromDraws } from './from-draws.ts';
import { inletSide_V } from './geometry.ts';

export interface PlanCalibration {
  observations_used: number;
  /** Belief that every observation is right. */
  support: number;
  unknowns: { name: string; unit: string; before: Estimate; after: Estimate }[];
  sentences: string[];
}

/** The belief after the observations; each may name its own liquid, flow and distance. */
export function beliefAfter(setup: Setup, observations: readonly Observation[]): Belief {
  return calibrated(observations.map((seen, k) => observedAt(setup, seen, k)));
}

/** `isSibling`: the belief is of the batch's next emitter. */
export function calibrationOf(
  condition: Condition,
  belief: Belief,
  isSibling = false,
): PlanCalibration | undefined {
  if (belief.observations === 0) return undefined;
  const prior = priorBelief();
  const row = (name: string, unit: string, of: (b: Belief) => Float64Array) => ({
    name,
    unit,
    before: fromDraws(of(prior), { basis: 'prior', sources: ['judgement'] }),
    after: fromDraws(of(belief), {
      basis: 'after what was seen',
      sources: ['observations given with the set-up'],
    }),
  });
  const { tip, liquid, pressure } = condition;
  const K = liquid.conductivity_S_m;
  const unknowns = [
    row('wetted radius', 'µm', (b) => b.draws.contact.map((z) => contactRadiusOf(tip, z) / UM)),
    row('feed pressure', 'γ/a', (b) => b.draws.pressure.map((z) => pressureOf(pressure, z))),
    row('conductivity', 'S/m', (b) => b.draws.conductivity.map((z) => K.value * conductivityFactor(K, z))),
    row('onset', 'V', (b) => windowDraws(b, condition).onset_V),
    row('steady from', 'V', (b) => windowDraws(b, condition).steady_from_V),
    row('several jets from', 'V', (b) => windowDraws(b, condition).several_from_V),
  ];
  return {
    observations_used: belief.observations,
    support: belief.support,
    unknowns,
    sentences: [...(isSibling ? [SIBLING_WORDS] : []), ...words(belief, unknowns)],
  };
}

const SIBLING_WORDS = `For a sibling of the emitter that was seen: ${SIBLING_SPREAD} of the scatter from piece to piece is drawn anew (judgement; a batch's own records know better).`;

function words(belief: Belief, unknowns: PlanCalibration['unknowns']): string[] {
  const said = unknowns
    .map((row) => ({ row, gain: width(row.before) - width(row.after) }))
    .filter(({ gain }) => gain > 0.05)
    .sort((a, b) => b.gain - a.gain)
    .map(
      ({ row: { name, unit, before, after } }) =>
        `${name}: ${figure(before.low)} to ${figure(before.high)} became ${figure(after.low)} to ${figure(after.high)} ${unit}.`,
    );
  if (belief.support < LITTLE_SUPPORT)
    said.unshift(
      'What was seen hardly fits this set-up: check rim, distance, contact and the voltage read before you trust the rest.',
    );
  return said;
}

/** Relative width of an 80 % range; of a number that may be zero or negative, its absolute width. */
function width({ low, high }: Estimate): number {
  return low > 0 ? Math.log(high / low) : high - low;
}

function observedAt(setup: Setup, seen: Observation, k: number): ObservedAt {
  const given = [seen.tip_V, seen.supply_V].filter((v) => v !== undefined);
  const where = `observations.${k}`;
  if (given.length !== 1)
    throw inputError('invalid', where, `${given.length} voltages`, 'one of tip_V and supply_V');
  const own: Setup = {
    ...setup,
    liquid: seen.liquid ?? setup.liquid,
    feed: seen.flow_nL_min === undefined ? setup.feed : { kind: 'pumped', flow_nL_min: seen.flow_nL_min },
    inlet: { ...setup.inlet, distance_mm: seen.distance_mm ?? setup.inlet.distance_mm },
  };
  try {
    return { condition: conditionOf(own), inletSide_V: inletSide_V(setup), seen };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.faults.map((fault) => ({ ...fault, where: `${where}: ${fault.where}` })));
  }
}
