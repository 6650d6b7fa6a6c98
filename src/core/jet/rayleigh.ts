/**
 * Rayleigh limit of a charged droplet, qR = 8π sqrt(ε0 γ r³) [C] (Rayleigh 1882, exact for a conducting sphere).
 * Worked number: water, γ 0.072 N/m, r = 1 µm: 2.007e-14 C = 125 248 elementary charges.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';

export function rayleighCharge(surfaceTension: number, radius: number): number {
  return 8 * Math.PI * Math.sqrt(VACUUM_PERMITTIVITY * surfaceTension * radius ** 3);
}

/**
 * Largest droplet diameter [m] that can carry the mean charge density I/Q without passing the Rayleigh limit:
 * D = (288 ε0 γ Q²/I²)^(1/3).
 */
export function rayleighDiameter(surfaceTension: number, flow: number, current: number): number {
  return Math.cbrt((288 * VACUUM_PERMITTIVITY * surfaceTension * flow ** 2) / current ** 2);
}
