/** What a person saw on an emitter, as a document: a list of voltages with the regime there. */
import { z } from 'zod';
import { type Fault, InputError, inputError } from '../core/errors.ts';
import type { Setup } from '../core/setup.ts';
import { type Observation, REGIMES_SEEN } from '../core/window/index.ts';
import { faultsIn } from './faults.ts';
import { liquidSchema, quantity, setupFrom } from './setup.ts';

const observationSchema = z.strictObject({
  tip_V: quantity('V', 1, 10000, 'voltage at the tip, magnitude').optional(),
  supply_V: quantity('V', 1, 10000, 'voltage at the supply, magnitude').optional(),
  seen: z.enum(REGIMES_SEEN),
  direction: z.enum(['up', 'down']).optional(),
  apex_height_um: quantity('µm', 0.01, 5000, 'height of the meniscus above the rim').optional(),
  current_nA: quantity('nA', 0.1, 1e6, 'mean spray current').optional(),
  liquid: liquidSchema.optional(),
  flow_nL_min: quantity('nL/min', 0.1, 100000, 'flow at that moment').optional(),
  distance_mm: quantity('mm', 0.05, 50, 'tip to inlet at that moment').optional(),
});

export const observationsSchema = z.strictObject({
  observations: z.array(observationSchema).min(1).max(50),
});

/** Throws one InputError with every fault. */
export function observationsFrom(document: unknown): Observation[] {
  const result = observationsSchema.safeParse(document);
  const faults: Fault[] = result.success
    ? result.data.observations.flatMap(({ tip_V, supply_V }, k) => {
        const found = Number(tip_V !== undefined) + Number(supply_V !== undefined);
        if (found === 1) return [];
        return [
          {
            kind: found === 0 ? ('missing' as const) : ('invalid' as const),
            where: `observations.${k}`,
            found: found === 0 ? '' : 'tip_V and supply_V',
            expected: 'one of tip_V and supply_V',
          },
        ];
      })
    : faultsIn(result.error, document, 'observations');
  if (faults.length > 0 || !result.success) throw new InputError(faults);
  return result.data.observations;
}

export interface PlanRequest {
  setup: Setup;
  observations: Observation[];
  /** The observations were made on another emitter of the same batch. */
  sibling: boolean;
}

/** A request for a plan: a set-up alone, or `{ setup, observations, sibling }`. */
export function planRequestFrom(document: unknown): PlanRequest {
  if (typeof document !== 'object' || document === null || !('setup' in document))
    return { setup: setupFrom(document), observations: [], sibling: false };
  const { setup, ...rest } = document;
  const { sibling = false, ...seen } = rest as { sibling?: unknown };
  if (typeof sibling !== 'boolean')
    throw inputError('invalid', 'sibling', String(sibling).slice(0, 20), 'true or false');
  const observations = 'observations' in seen ? observationsFrom(seen) : [];
  if (sibling && observations.length === 0)
    throw inputError('missing', 'observations', '', 'what was seen on an emitter of the same batch');
  return { setup: setupFrom(setup), observations, sibling };
}
