/**
 * Natural scales of the cone-jet of a conducting liquid (Gañán-Calvo 2004, J. Fluid Mech. 507, 203; from memory).
 * Q0 = γ ε0/(ρ K) [m3/s], I0 = sqrt(ε0 γ²/ρ) [A], d0 = (γ ε0²/(ρ K²))^(1/3) [m].
 * Worked number: γ 0.033 N/m, ρ 900 kg/m3, K 0.020 S/m: Q0 0.974 nL/min, I0 3.273 nA, d0 19.30 nm.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';

export interface JetLiquid {
  /** γ [N/m] */
  surfaceTension: number;
  /** ρ [kg/m3] */
  density: number;
  /** K [S/m] */
  conductivity: number;
  /** εr [-] */
  permittivity: number;
}

export interface JetScales {
  /** [m3/s] */
  flow: number;
  /** [A] */
  current: number;
  /** [m] */
  diameter: number;
}

export function jetScales(liquid: JetLiquid): JetScales {
  const { surfaceTension: g, density: rho, conductivity: K } = liquid;
  return {
    flow: (g * VACUUM_PERMITTIVITY) / (rho * K),
    current: Math.sqrt((VACUUM_PERMITTIVITY * g * g) / rho),
    diameter: Math.cbrt((g * VACUUM_PERMITTIVITY ** 2) / (rho * K * K)),
  };
}
