/**
 * Smallest flow that a steady cone-jet can carry, [m3/s]: Qmin = c εr Q0 with c between 0.26 and 1, charge relaxation
 * limited (low viscosity). The middle is the geometric mean. Order of magnitude only: a factor 2 to 4.
 * Worked number: γ 0.033, ρ 900, K 0.020, εr 57: εr Q0 = 55.5 nL/min, floor 14 nL/min.
 */
import { type JetLiquid, jetScales } from './scales.ts';

export const MINIMUM_FLOW_LOW = 0.26;
export const MINIMUM_FLOW_HIGH = 1;
const MIDDLE = Math.sqrt(MINIMUM_FLOW_LOW * MINIMUM_FLOW_HIGH);

export function minimumFlow(liquid: JetLiquid): { low: number; middle: number; high: number } {
  const relaxation = liquid.permittivity * jetScales(liquid).flow;
  return {
    low: MINIMUM_FLOW_LOW * relaxation,
    middle: MIDDLE * relaxation,
    high: MINIMUM_FLOW_HIGH * relaxation,
  };
}
