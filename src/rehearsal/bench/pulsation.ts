/**
 * Pulsation of a meniscus as a relaxation oscillator: charge gathers until the surface lets a share of it go.
 * Frequency: charged-drop mode n = 2, f = (1/2π) √(8 γ (1 − x²)/(ρ R³)), x the share of the Rayleigh charge: 0.57 at 65 µm and
 * 0.74 at 50 µm (Marginean, Nemes, Parvin and Vertes 2006, Appl. Phys. Lett. 89:064104, read (abstract)), held at 0.74 below; below
 * the minimum flow f ∝ Q/Qmin (Bober and Chen 2011, J. Fluid Mech. 689:552, read (abstract)). Charge of a pulse: at the onset a share
 * of the Rayleigh charge of a drop of the contact line's radius, towards the steady edge what a short-lived jet carries (0.8 of the
 * current law over f), between them in geometric steps. The mean thus rises from a few percent of the law to 0.8: judgement.
 * Worked number (computed): γ 0.0349, ρ 910, R 50 µm, x 0.74: 5.30 kHz.
 */
import { currentConsensus, type JetLiquid, rayleighCharge } from '../../core/jet/index.ts';

export interface Pulsation {
  frequency_Hz: number;
  charge_C: number;
}

const SHARE_BELOW_50_UM = 0.74;
const SHARE_AT_65_UM = 0.57;

/** Share of the Rayleigh charge on a meniscus of this radius [m]; linear between the two published radii, held beyond. */
export function chargeShare(radius: number): number {
  const t = Math.min(1, Math.max(0, (radius - 50e-6) / 15e-6));
  return SHARE_BELOW_50_UM + t * (SHARE_AT_65_UM - SHARE_BELOW_50_UM);
}

export function meniscusFrequency(surfaceTension: number, density: number, radius: number): number {
  const x = chargeShare(radius);
  return Math.sqrt((8 * surfaceTension * (1 - x * x)) / (density * radius ** 3)) / (2 * Math.PI);
}

/** `depth` 0 at the onset to 1 at the steady edge: frequency and mean current grow with the voltage and level off. */
export function pulsation(
  liquid: JetLiquid,
  radius: number,
  flow: number,
  minimumFlow: number,
  depth: number,
): Pulsation {
  const choked = Math.min(1, flow / minimumFlow);
  const frequency_Hz =
    meniscusFrequency(liquid.surfaceTension, liquid.density, radius) *
    choked *
    (0.55 + 0.45 * Math.sqrt(depth));
  const jet = (JET_SHARE * currentConsensus(liquid, flow)) / frequency_Hz;
  const gathered = Math.min(
    jet,
    ONSET_SHARE * chargeShare(radius) * rayleighCharge(liquid.surfaceTension, radius),
  );
  return { frequency_Hz, charge_C: gathered * (jet / gathered) ** Math.sqrt(depth) };
}

/** Of the charge on the meniscus, let go in one pulse at the onset; of the current law, carried at the steady edge. */
const ONSET_SHARE = 0.35;
const JET_SHARE = 0.8;
