/**
 * Spray current of a single steady cone-jet, [A]. All laws share I ∝ sqrt(γ K Q); they differ in the coefficient.
 * Valid in the cone-jet only; a pulsating spray carries less, several jets sqrt(n) times as much.
 * Worked number: γ 0.033 N/m, K 0.020 S/m, εr 57, Q 50 nL/min: 55.9 nA (f = 18), 61.0 nA (a = 2.6), 50.9 nA (b = 2.17).
 */
import type { JetLiquid } from './scales.ts';

/** I = f(εr) sqrt(γ K Q/εr), f = 18 for εr above about 40 (Fernandez de la Mora & Loscertales 1994). Accuracy 10 to 15 %. */
export function currentFdlm(liquid: JetLiquid, flow: number): number {
  const { surfaceTension: g, conductivity: K, permittivity } = liquid;
  return FDLM_F * Math.sqrt((g * K * flow) / permittivity);
}
const FDLM_F = 18;

/** I = 2.6 sqrt(γ K Q) (Gañán-Calvo 2004). */
export function currentGananCalvo(liquid: JetLiquid, flow: number): number {
  return 2.6 * Math.sqrt(liquid.surfaceTension * liquid.conductivity * flow);
}

/** I = 2.17 sqrt(γ K Q), flat velocity profile (Hartman et al. 1999). */
export function currentHartman(liquid: JetLiquid, flow: number): number {
  return HARTMAN_B * Math.sqrt(liquid.surfaceTension * liquid.conductivity * flow);
}
export const HARTMAN_B = 2.17;

/** Consensus of the laws for εr 30 to 80: I = 2.4 sqrt(γ K Q), band 2.0 to 2.6. */
export function currentConsensus(liquid: JetLiquid, flow: number): number {
  return CONSENSUS * Math.sqrt(liquid.surfaceTension * liquid.conductivity * flow);
}
const CONSENSUS = 2.4;
/** The band's ends relative to the consensus. */
export const CONSENSUS_LOW = 2.0 / CONSENSUS;
export const CONSENSUS_HIGH = 2.6 / CONSENSUS;
