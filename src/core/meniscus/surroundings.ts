import { layerMatrices } from '../field/layer.ts';
import type { Panels } from '../field/panels.ts';
import { factorLu, type LuFactors, solveLu } from '../numeric/dense-lu.ts';

/**
 * What the liquid sees and what does not change with its shape: the emitter (none for a drop on the plate), the
 * plane, and the potential that the charges must make on the conductor. The emitter's block is factored once.
 */
export interface Surroundings {
  readonly emitter: Panels | undefined;
  readonly emitterFactors: LuFactors | undefined;
  /** Charge density of the emitter alone for the driving potential. */
  readonly emitterAlone: Float64Array;
  readonly plane: number;
  readonly drive: Drive;
}

/** `voltage`: emitter and liquid at 1, plane at 0. `field`: body on the plate at 0 in a uniform field of strength 1. */
export type Drive = 'voltage' | 'field';

/** Undefined where the emitter's panels coincide. */
export function emitterAtVoltage(emitter: Panels, distance: number): Surroundings | undefined {
  const n = emitter.r.length;
  const emitterFactors = factorLu(n, layerMatrices(emitter, emitter, distance, false).single);
  if (emitterFactors.singular) return undefined;
  const emitterAlone = solveLu(emitterFactors, new Float64Array(n).fill(1));
  return { emitter, emitterFactors, emitterAlone, plane: distance, drive: 'voltage' };
}

/** A drop on the plate z = 0 in a uniform field; its mirror image makes a whole drop in free space of it. */
export function plateInField(): Surroundings {
  return {
    emitter: undefined,
    emitterFactors: undefined,
    emitterAlone: new Float64Array(0),
    plane: 0,
    drive: 'field',
  };
}
