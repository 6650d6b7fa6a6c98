/**
 * Dynamic viscosity: exact-formula water, Arrhenius organics, and a Jouyban-Acree excess in volume fraction.
 * Accuracy 6 % acetonitrile (53 of 63 points within 5 %, worst 9.5 %: the sources disagree), 4 % methanol, 8 %
 * 2-propanol (not below 20 °C). Additives up to 1 % are neglected.
 */
import { type Organic, REFERENCE_K } from './solvents.ts';

export const VISCOSITY_SOURCES = [
  'Patek et al. 2009, J. Phys. Chem. Ref. Data 38, 21 (water), from memory, computed against IAPWS 2008',
  'Snyder, Kirkland, Dolan 2010, Introduction to Modern Liquid Chromatography, appendix I (mixtures), computed fit',
  'CRC Handbook, concentrative properties of aqueous solutions (methanol, 2-propanol), computed fit',
] as const;

/**
 * η = 1e-6·(280.68u^-1.9 + 511.45u^-7.7 + 61.131u^-19.6 + 0.45903u^-40), u = T/300; T in K, η in Pa s.
 * Valid 253-383 K, 0.01 % against IAPWS 2008. Patek et al. 2009. 298.15 K gives 8.900e-4 Pa s.
 */
export function waterViscosity(temperature_K: number): number {
  const u = temperature_K / 300;
  return 1e-6 * (280.68 * u ** -1.9 + 511.45 * u ** -7.7 + 61.131 * u ** -19.6 + 0.45903 * u ** -40);
}

/**
 * η = η25·exp(B(1/T - 1/298.15)); T in K, η in Pa s. Valid 15-40 °C, ±2 % (spread between handbooks).
 * Source: Dortmund data bank, Perry's Handbook, a reference equation; computed fits.
 * 298.15 K gives 3.447e-4, 5.436e-4, 2.048e-3 Pa s.
 */
export function organicViscosity(organic: Organic, temperature_K: number): number {
  const { at25, b } = PURE[organic];
  return at25 * Math.exp(b * (1 / temperature_K - 1 / REFERENCE_K));
}

/**
 * ln η = φ ln η_o + (1-φ) ln η_w + φ(1-φ)[ΣA_k u^k + D ΣB_k u^k], u = 1-2φ, D = 1000/T - 1000/298.15.
 * φ before mixing, T in K, η in Pa s. Valid 15-40 °C (2-propanol 20-40 °C). 50 % acetonitrile at 298.15 K gives
 * 8.11e-4 Pa s.
 */
export function mixtureViscosity(organic: Organic, fraction: number, temperature_K: number): number {
  if (fraction === 0) return waterViscosity(temperature_K);
  if (fraction === 1) return organicViscosity(organic, temperature_K);
  const u = 1 - 2 * fraction;
  const d = 1000 / temperature_K - 1000 / REFERENCE_K;
  const { a, b } = EXCESS[organic];
  return Math.exp(
    fraction * Math.log(organicViscosity(organic, temperature_K)) +
      (1 - fraction) * Math.log(waterViscosity(temperature_K)) +
      fraction * (1 - fraction) * (polynomial(a, u) + d * polynomial(b, u)),
  );
}

const PURE: Readonly<Record<Organic, { at25: number; b: number }>> = {
  acetonitrile: { at25: 0.3447e-3, b: 842.6 },
  methanol: { at25: 0.5436e-3, b: 1291.1 },
  '2-propanol': { at25: 2.048e-3, b: 2632 },
};

const EXCESS: Readonly<Record<Organic, { a: readonly number[]; b: readonly number[] }>> = {
  acetonitrile: { a: [1.527, 0.4514, 0.1082], b: [2.0239] },
  methanol: { a: [3.3446, -0.4541, 0.7298], b: [2.4677] },
  '2-propanol': { a: [3.2444, 1.2069, -1.1517, -0.7749], b: [3.1691, 6.7516] },
};

function polynomial(coefficients: readonly number[], u: number): number {
  return coefficients.reduceRight((total, c) => total * u + c, 0);
}
