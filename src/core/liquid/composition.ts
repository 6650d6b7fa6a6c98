/**
 * Composition: volume fractions before mixing at 20 °C to mole and mass fractions, and the rule for more than one
 * organic. Approximation: volumes are nominal; contraction on mixing (2 to 3.5 % at 50:50) is not undone.
 * Breaks for a bottle topped up to volume: x is then off by up to 3 %.
 * Source: bookkeeping identity, computed; densities in pure-density.ts.
 */
import { inputError } from '../errors.ts';
import { organicDensity, waterDensity } from './pure-density.ts';
import { ORGANIC_MOLAR_MASS, ORGANICS, type Organic, VOLUME_K, WATER_MOLAR_MASS } from './solvents.ts';

/** Water and its organics: `organic_fraction` by volume, shared among the organics by `shares` (sum 1 unless empty). */
export interface Blend {
  organic_fraction: number;
  shares: readonly { organic: Organic; share: number }[];
}

/**
 * n_o = φ·ρ_o(20)/M_o, n_w = (1-φ)·ρ_w(20)/M_w, x = n_o/(n_o+n_w).
 * φ 0-1, x 0-1 (dimensionless); 0.4 % of x. Source: identity, computed. φ = 0.5 acetonitrile gives 0.2558.
 */
export function moleFraction(organic: Organic, fraction: number): number {
  const moles = (fraction * organicDensity(organic, VOLUME_K)) / ORGANIC_MOLAR_MASS[organic];
  const water = ((1 - fraction) * waterDensity(VOLUME_K)) / WATER_MOLAR_MASS;
  return moles / (moles + water);
}

/** w = φρ_o/(φρ_o + (1-φ)ρ_w), both at 20 °C, dimensionless; identity. φ = 0.5 acetonitrile gives 0.4393. */
export function massFraction(organic: Organic, fraction: number): number {
  const mass = fraction * organicDensity(organic, VOLUME_K);
  return mass / (mass + (1 - fraction) * waterDensity(VOLUME_K));
}

/** Inverse of `massFraction`: φ from w. w = 0.4393 acetonitrile gives 0.5. */
export function volumeFractionOfMass(organic: Organic, massFractionOrganic: number): number {
  const volume = massFractionOrganic / organicDensity(organic, VOLUME_K);
  return volume / (volume + (1 - massFractionOrganic) / waterDensity(VOLUME_K));
}

/** Inverse of `moleFraction`: φ from x. x = 0.2558 acetonitrile gives 0.5. */
export function volumeFractionOfMoles(organic: Organic, moleFractionOrganic: number): number {
  const volume = (moleFractionOrganic * ORGANIC_MOLAR_MASS[organic]) / organicDensity(organic, VOLUME_K);
  const water = ((1 - moleFractionOrganic) * WATER_MOLAR_MASS) / waterDensity(VOLUME_K);
  return volume / (volume + water);
}

/** Percent by volume of each organic to a blend; refuses negative shares and sums above 100 %. */
export function blendOf(percents: Readonly<Record<Organic, number>>): Blend {
  for (const organic of ORGANICS) {
    const percent = percents[organic];
    if (!(percent >= 0 && percent <= 100)) {
      throw inputError('out of range', `liquid.${fieldOf(organic)}`, `${percent} %`, '0 to 100 % by volume');
    }
  }
  const sum = ORGANICS.reduce((total, organic) => total + percents[organic], 0);
  if (sum > 100 + PERCENT_SLACK) {
    throw inputError('out of range', 'liquid organic content', `${sum} %`, 'at most 100 % by volume in all');
  }
  const shares = ORGANICS.filter((organic) => percents[organic] > 0).map((organic) => ({
    organic,
    share: percents[organic] / sum,
  }));
  return { organic_fraction: Math.min(1, sum / 100), shares };
}

/**
 * Ternary rule: water with several organics is the volume-weighted mean of the binaries at the same total organic
 * fraction; `logarithmic` takes the geometric mean, for quantities that span decades. Exact for a single organic.
 */
export function overBinaries(
  blend: Blend,
  binary: (organic: Organic, fraction: number) => number,
  mean: 'linear' | 'logarithmic' = 'linear',
): number {
  const [first] = blend.shares;
  if (first === undefined) return binary('acetonitrile', 0);
  if (blend.shares.length === 1) return binary(first.organic, blend.organic_fraction);
  let sum = 0;
  for (const { organic, share } of blend.shares) {
    const value = binary(organic, blend.organic_fraction);
    sum += share * (mean === 'linear' ? value : Math.log(value));
  }
  return mean === 'linear' ? sum : Math.exp(sum);
}

/** Largest share-weighted figure of a per-organic table, e.g. the customary error of a model. */
export function worstOf(blend: Blend, table: Readonly<Record<Organic, number>>): number {
  return blend.shares.reduce((worst, { organic }) => Math.max(worst, table[organic]), 0);
}

/** Rounding slack of summed percents [%]. */
const PERCENT_SLACK = 1e-9;

function fieldOf(organic: Organic): string {
  return organic === '2-propanol' ? 'propanol_2_percent' : `${organic}_percent`;
}
