/**
 * Density of water, the three organics and their binaries with water: ideal volumes plus a Redlich-Kister excess
 * volume. The excess of the reference temperature (20 or 25 °C) serves 15 to 40 °C.
 * Accuracy 0.05 % methanol, 0.35 % 2-propanol, 0.5 % acetonitrile (its excess volume is from memory).
 */
import { moleFraction } from './composition.ts';
import { organicDensity, waterDensity } from './pure-density.ts';
import { ORGANIC_MOLAR_MASS, type Organic, VOLUME_K, WATER_MOLAR_MASS } from './solvents.ts';

export { organicDensity, waterDensity };

export const DENSITY_SOURCES = [
  'Tanaka et al. 2001, Metrologia 38, 301 (water), computed',
  'Zarei et al. 2008, J. Chem. Eng. Data 53, 578 (sign of the acetonitrile excess volume), read (abstract)',
  'CRC Handbook, concentrative properties of aqueous solutions (methanol, 2-propanol), computed',
] as const;

/**
 * V^E = x(1-x)·Σ c_k(1-2x)^k; x organic mole fraction, result m3/mol. Valid 15-40 °C.
 * Accuracy: methanol and 2-propanol within the density errors above; acetonitrile ±0.05-0.1 cm3/mol, from memory.
 * Acetonitrile x = 0.5 gives -4.59e-7 m3/mol.
 */
export function excessMolarVolume(organic: Organic, x: number): number {
  const u = 1 - 2 * x;
  const sum = EXCESS_CM3[organic].reduceRight((total, c) => total * u + c, 0);
  return x * (1 - x) * sum * 1e-6;
}

/**
 * ρ = (xM_o + (1-x)M_w)/(xM_o/ρ_o + (1-x)M_w/ρ_w + V^E); φ before mixing, T in K, ρ in kg/m3.
 * Valid 15-40 °C, φ 0-1, 0.5 %. 50 % acetonitrile at 298.15 K gives 904.5 kg/m3.
 */
export function mixtureDensity(organic: Organic, fraction: number, temperature_K: number): number {
  if (fraction === 0) return waterDensity(temperature_K);
  if (fraction === 1) return organicDensity(organic, temperature_K);
  const { mass, ideal, excess } = molarVolume(organic, fraction, temperature_K);
  return mass / (ideal + excess);
}

/** V^E over the summed volumes, at 20 °C unless said; negative is shrinking. 50 % methanol gives -0.035. */
export function contraction(organic: Organic, fraction: number, temperature_K = VOLUME_K): number {
  const { ideal, excess } = molarVolume(organic, fraction, temperature_K);
  return excess / ideal;
}

const EXCESS_CM3: Readonly<Record<Organic, readonly number[]>> = {
  acetonitrile: [-1.836, -1.425, -1.182],
  methanol: [-4.0625, -0.3008, 0.2704, 1.2504],
  '2-propanol': [-3.6873, -1.5409, -1.9201, -0.8155, 0.1893],
};

function molarVolume(organic: Organic, fraction: number, temperature_K: number) {
  const x = moleFraction(organic, fraction);
  const mo = x * ORGANIC_MOLAR_MASS[organic];
  const mw = (1 - x) * WATER_MOLAR_MASS;
  return {
    mass: mo + mw,
    ideal: mo / organicDensity(organic, temperature_K) + mw / waterDensity(temperature_K),
    excess: excessMolarVolume(organic, x),
  };
}
