/**
 * Surface tension against air: IAPWS water, linear organics, Connors-Wright in between. Equilibrium values of clean
 * liquid: peptides, lipids and detergents lower a fresh water-rich surface by up to 10-20 mN/m, and a jet of
 * microseconds sees a value nearer to water. Accuracy 3-4 % against tables quoted from memory; the form has a false
 * shallow minimum (0.6 mN/m) near 85 % acetonitrile, and 0-8 % acetonitrile is extrapolated.
 */
import { moleFraction } from './composition.ts';
import { type Organic, REFERENCE_K } from './solvents.ts';

export const SURFACE_TENSION_SOURCES = [
  'IAPWS R1-76(2014) (water), computed',
  'Connors, Wright 1989, Anal. Chem. 61, 194 (form), from memory',
  'Vazquez, Alvarez, Navaza 1995, J. Chem. Eng. Data 40, 611, and CRC Handbook (tables fitted), from memory',
] as const;

/**
 * σ = 0.2358·τ^1.256·(1 - 0.625τ), τ = 1 - T/647.096; T in K, σ in N/m. Valid 273-647 K, 0.5 %.
 * IAPWS R1-76(2014). 298.15 K gives 0.071972 N/m.
 */
export function waterSurfaceTension(temperature_K: number): number {
  const tau = 1 - temperature_K / 647.096;
  return 0.2358 * tau ** 1.256 * (1 - 0.625 * tau);
}

/**
 * σ = σ25 + slope·(t-25); T in K, σ in N/m. Valid 15-40 °C, 2 % (handbooks differ by 0.2-0.4 mN/m).
 * VDI Heat Atlas and CRC Handbook, computed. 298.15 K gives 0.02867, 0.02230, 0.02110 N/m.
 */
export function organicSurfaceTension(organic: Organic, temperature_K: number): number {
  const { at25, slope } = PURE[organic];
  return at25 + slope * (temperature_K - REFERENCE_K);
}

/**
 * σ = σ_w - [1 + b(1-x)/(1-a(1-x))]·x·(σ_w-σ_o), x organic mole fraction; T in K, σ in N/m.
 * Valid 15-40 °C (the tables are at 20 or 25 °C), 4 %. 50 % acetonitrile at 298.15 K gives 0.0309 N/m.
 */
export function mixtureSurfaceTension(organic: Organic, fraction: number, temperature_K: number): number {
  const x = moleFraction(organic, fraction);
  const water = waterSurfaceTension(temperature_K);
  const pure = organicSurfaceTension(organic, temperature_K);
  if (fraction === 1) return pure;
  const { a, b } = SHAPE[organic];
  return water - (1 + (b * (1 - x)) / (1 - a * (1 - x))) * x * (water - pure);
}

const PURE: Readonly<Record<Organic, { at25: number; slope: number }>> = {
  acetonitrile: { at25: 28.67e-3, slope: -0.127e-3 },
  methanol: { at25: 22.3e-3, slope: -0.082e-3 },
  '2-propanol': { at25: 21.1e-3, slope: -0.078e-3 },
};

const SHAPE: Readonly<Record<Organic, { a: number; b: number }>> = {
  acetonitrile: { a: 0.9539, b: 1.0555 },
  methanol: { a: 0.8673, b: 0.8296 },
  '2-propanol': { a: 0.9819, b: 0.9778 },
};
