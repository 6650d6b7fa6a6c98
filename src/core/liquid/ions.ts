/**
 * Limiting molar conductivities of single ions in water, their temperature rule, and how they carry over into
 * water with an organic: Walden with a linear correction, and for H+ an excess by proton hopping that dies with the
 * water. Accuracy: water 0.3-3 %; mixtures about 15 %, and for H+ the law is an assumption (factor 1.25 at 50 %
 * acetonitrile, 2 at 90 %). Public unit S m2/mol; the table is in the customary 1e-4 S m2/mol.
 */

import { type Organic, REFERENCE_K } from './solvents.ts';
import { mixtureViscosity, waterViscosity } from './viscosity.ts';

export type Ion =
  | 'H+'
  | 'OH-'
  | 'Na+'
  | 'K+'
  | 'NH4+'
  | 'Cl-'
  | 'F-'
  | 'HCO3-'
  | 'formate'
  | 'acetate'
  | 'trifluoroacetate'
  | 'stray cation'
  | 'stray anion';

/**
 * λ(T) = λ25·(η_w(25)/η_w(T))^p; T in K, λ in S m2/mol. Valid 0-40 °C; 0.3 % for Na+, H+, Cl-, 3 % where p is assumed.
 * Vanysek, CRC Handbook, ionic conductivity at infinite dilution; p from Robinson, Stokes 1959, appendix 6.2, from
 * memory. H+ at 298.15 K gives 349.65e-4 S m2/mol.
 */
export function ionConductivityInWater(ion: Ion, temperature_K: number): number {
  const { at25, exponent } = IONS[ion];
  return at25 * 1e-4 * (waterViscosity(REFERENCE_K) / waterViscosity(temperature_K)) ** exponent;
}

/**
 * λ = λ_w(T)·(η_w/η_mix)·(1-kφ); H+: λ_K(mix) + (λ_H-λ_K)_w(T)·(1-φ)^n. T in K, λ in S m2/mol. Valid 15-40 °C.
 * k, n: acetonitrile 0.5, 1.5; methanol 0.55, 1.0 (single-ion values in the pure solvents, from memory; Owen, Waters,
 * dioxane and water, from memory); 2-propanol 0.55, 1.5 (judgement, after tert-butanol and water, read (abstract)).
 * H+ in 50 % acetonitrile at 298.15 K gives 158e-4 S m2/mol.
 */
export function ionConductivity(ion: Ion, organic: Organic, fraction: number, temperature_K: number): number {
  const water = ionConductivityInWater(ion, temperature_K);
  if (fraction === 0) return water;
  const { walden, hopping } = MIXTURE[organic];
  const factor =
    (waterViscosity(temperature_K) / mixtureViscosity(organic, fraction, temperature_K)) *
    (1 - walden * fraction);
  if (ion !== 'H+') return water * factor;
  const potassium = ionConductivityInWater('K+', temperature_K);
  return potassium * factor + (water - potassium) * (1 - fraction) ** hopping;
}

const MIXTURE: Readonly<Record<Organic, { walden: number; hopping: number }>> = {
  acetonitrile: { walden: 0.5, hopping: 1.5 },
  methanol: { walden: 0.55, hopping: 1 },
  '2-propanol': { walden: 0.55, hopping: 1.5 },
};

/** The stray salt is nobody's in particular: a 1:1 salt of Λ0 = 150e-4 S m2/mol, as sodium or ammonium formate would be. */
const IONS: Readonly<Record<Ion, { at25: number; exponent: number }>> = {
  'H+': { at25: 349.65, exponent: 0.606 },
  'OH-': { at25: 198, exponent: 0.7 },
  'Na+': { at25: 50.08, exponent: 0.952 },
  'K+': { at25: 73.48, exponent: 0.853 },
  'NH4+': { at25: 73.5, exponent: 0.86 },
  'Cl-': { at25: 76.31, exponent: 0.886 },
  'F-': { at25: 55.4, exponent: 0.9 },
  'HCO3-': { at25: 44.5, exponent: 0.93 },
  formate: { at25: 54.6, exponent: 0.9 },
  acetate: { at25: 40.9, exponent: 0.93 },
  trifluoroacetate: { at25: 41.2, exponent: 0.93 },
  'stray cation': { at25: 75, exponent: 0.87 },
  'stray anion': { at25: 75, exponent: 0.87 },
};
