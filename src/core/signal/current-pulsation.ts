/**
 * Natural frequency of a meniscus: the n = 2 mode of a charged drop of the radius R on which the meniscus is held [m],
 * f = (1/2π) sqrt(8 γ (1 − x²)/(ρ R³)) [Hz], x the share of the Rayleigh charge (Rayleigh 1882).
 * Approximation: a pinned, fed meniscus is no free drop; x is not known beforehand: 0 to 0.9 is the range told.
 * Fed below the minimum flow the jet is choked and f falls as Q/Qmin (Bober & Chen 2011, J. Fluid Mech. 689:552, read
 * (abstract)). Breaks where viscosity damps the mode (small R, viscous liquid) and on wet faces.
 * Source: Marginean et al. 2006, Appl. Phys. Lett. 89:064104, read (abstract): 0.57 of the Rayleigh charge at 65 µm, 0.74 at 50 µm.
 * Worked number: γ 0.0349, ρ 910, R 65 µm, x 0.57: 4.37 kHz; R 50 µm, x 0.74: 5.30 kHz (computed).
 */
export interface PulsatingLiquid {
  surfaceTension: number; // [N/m]
  density: number; // [kg/m3]
}

export function naturalFrequency(liquid: PulsatingLiquid, radius: number, rayleighShare: number): number {
  const stiffness =
    (8 * liquid.surfaceTension * (1 - rayleighShare * rayleighShare)) / (liquid.density * radius ** 3);
  return Math.sqrt(stiffness) / (2 * Math.PI);
}

/** Share of the Rayleigh charge at which the meniscus would ring at `frequency`; undefined above the uncharged mode. */
export function rayleighShareAt(
  liquid: PulsatingLiquid,
  radius: number,
  frequency: number,
): number | undefined {
  const ratio = frequency / naturalFrequency(liquid, radius, 0);
  return ratio <= 1 ? Math.sqrt(1 - ratio * ratio) : undefined;
}

/** Highest share of the Rayleigh charge considered: nearer to 1 the drop has burst. */
const SHARE_HIGH = 0.9;

/** Where pulsation is to be looked for [Hz]; choked below the minimum flow. */
export function pulsationRange(
  liquid: PulsatingLiquid,
  radius: number,
  flowOverMinimum = 1,
): { low: number; high: number } {
  const choked = Math.min(1, flowOverMinimum);
  return {
    low: naturalFrequency(liquid, radius, SHARE_HIGH) * choked,
    high: naturalFrequency(liquid, radius, 0),
  };
}

/** Emitters of 10 to 30 µm outer diameter, water to half acetonitrile (computed with the law above, x 0 to 0.9). */
export const USUAL_PULSATION = { low: 2e4, high: 2.5e5 };
