/**
 * The range of the modelled conductivity: how far the additive's model may be off, and how much stray salt there is.
 * Both are judgement from the liquids reference: no measured conductivity of an LC-MS mixture was found.
 */
import { type Estimate, estimate } from '../estimate.ts';
import { type Blend, overBinaries } from './composition.ts';
import {
  type Additive,
  isAcid,
  mixtureConductivity,
  mixtureIonicStrength,
  mixturePH,
  STRAY_SALT,
} from './conductivity.ts';
import { compositionLimits, isWeak, lowSide, modelFactor, WEAK_ACID_LIMIT } from './conductivity-range.ts';
import { join, TERNARY_WIDENING, temperatureNote, ternaryNote } from './property-estimates.ts';
import { type Organic, temperatureValid } from './solvents.ts';

export const CONDUCTIVITY_SOURCES = [
  'Vanysek, CRC Handbook, ionic conductivity and diffusion at infinite dilution, computed',
  'Robinson, Stokes 1959, Electrolyte Solutions (Onsager slowing, temperature), from memory',
  'Barbosa et al. 1994, Anal. Chim. Acta 288, 271 (pKa against acetonitrile), read (abstract)',
  'Shedlovsky, Kay 1956, J. Phys. Chem. 60, 151 (pKa against methanol), from memory',
  'proton hopping as (1-φ)^n and the stray salt: judgement',
] as const;

/** κ at the central stray salt [S/m], at a given background when asked; geometric mean over the binaries. */
export function blendConductivity(
  blend: Blend,
  additive: Additive,
  temperature_K: number,
  stray_mol_m3: number = STRAY_SALT.central,
): number {
  const binary = (organic: Organic, fraction: number) =>
    mixtureConductivity(additive, { organic, fraction, temperature_K }, stray_mol_m3);
  return overBinaries(blend, binary, 'logarithmic');
}

export function conductivityEstimate(blend: Blend, additive: Additive, temperature_K: number): Estimate {
  const value = blendConductivity(blend, additive, temperature_K);
  const weakStray = blendConductivity(blend, additive, temperature_K, STRAY_SALT.low);
  const strongStray = blendConductivity(blend, additive, temperature_K, STRAY_SALT.high);
  const limits = compositionLimits(blend, additive);
  // Outside 15-40 °C or beyond the additive's strength the factor is squared; the factors for rich mixtures are
  // already those of an extrapolation.
  const extrapolated = !temperatureValid(temperature_K) || limits.tooStrong !== undefined;
  const power = extrapolated ? 2 : 1;
  const up = modelFactor(blend, additive) ** power;
  const down = (modelFactor(blend, additive) * lowSide(blend, additive)) ** power;
  // Independent causes, combined in the logarithm.
  const low = value / Math.exp(Math.hypot(Math.log(down), Math.log(value / weakStray)));
  const high = value * Math.exp(Math.hypot(Math.log(up), Math.log(strongStray / value)));
  const valid = !extrapolated && limits.tooRich === undefined;
  const result = estimate(value, low, high, {
    basis: basisOf(additive),
    sources: CONDUCTIVITY_SOURCES,
    note: join(
      temperatureNote(temperature_K),
      limits.tooStrong,
      limits.tooRich,
      additiveNote(additive, blend),
      ternaryNote(blend),
      'a measured conductivity is better than this model',
    ),
  });
  return { ...result, valid };
}

/**
 * Ionic strength [mol/m3]. A strong salt is as sure as its weighing (5 %); the ions of a weak acid follow its dissociation, so
 * their range is the pH's; stray salt from 5 to 30 µmol/L is added at both ends.
 */
export function ionicStrengthEstimate(blend: Blend, additive: Additive, temperature_K: number): Estimate {
  const at = (stray: number) =>
    overBinaries(
      blend,
      (organic, fraction) => mixtureIonicStrength(additive, { organic, fraction, temperature_K }, stray),
      'logarithmic',
    );
  const value = at(STRAY_SALT.central);
  const pH = phEstimate(blend, additive, temperature_K);
  const factor = isWeak(additive) && pH ? 10 ** (pH.high - pH.value) : WEIGHED;
  const result = estimate(
    value,
    Math.min(value, at(STRAY_SALT.low) / factor),
    Math.max(value, at(STRAY_SALT.high) * factor),
    {
      basis: 'dissociation with activities and stray salt',
      sources: CONDUCTIVITY_SOURCES.slice(2, 5),
      note: pH?.note,
    },
  );
  return pH && !pH.valid ? { ...result, valid: false } : result;
}
/** A weighed or diluted salt. Judgement. */
const WEIGHED = 1.05;

/** pH on the scale of the medium; absent without additive. Half-range: 0.05 acids, 0.3 salts, more with organic. */
export function phEstimate(blend: Blend, additive: Additive, temperature_K: number): Estimate | undefined {
  if (additive.name === 'none') return undefined;
  const value = overBinaries(
    blend,
    (organic, fraction) =>
      mixturePH(additive, { organic, fraction, temperature_K }, STRAY_SALT.central) ?? Number.NaN,
  );
  const limits = compositionLimits(blend, additive);
  const valid =
    temperatureValid(temperature_K) &&
    limits.tooRich === undefined &&
    limits.tooStrong === undefined &&
    blend.organic_fraction <= WEAK_ACID_LIMIT.acetonitrile;
  const base = isAcid(additive.name) ? 0.05 : 0.3;
  const half = (base + 0.6 * blend.organic_fraction) * (blend.shares.length > 1 ? TERNARY_WIDENING : 1);
  return estimate(value, value - half, value + half, {
    basis: 'acid dissociation with activities, scale of the mixture itself',
    sources: CONDUCTIVITY_SOURCES.slice(2, 4),
    valid,
    note: join(
      temperatureNote(temperature_K),
      limits.tooRich,
      limits.tooStrong,
      additive.name === 'ammonium bicarbonate' ? 'rises as carbon dioxide leaves' : undefined,
    ),
  });
}

function basisOf(additive: Additive): string {
  if (additive.name === 'none') return 'stray salt (judgement) and water itself';
  if (isWeak(additive)) return 'weak acid, Onsager, modified Walden, proton hopping, stray salt';
  return 'strong electrolyte, Onsager, modified Walden, stray salt';
}

function additiveNote(additive: Additive, blend: Blend): string | undefined {
  switch (additive.name) {
    case 'none':
      return 'without additive 5-30 µmol/L of stray salt decide; carbon dioxide of the air adds 1e-4 S/m in water';
    case 'formic acid':
      return blend.organic_fraction === 0
        ? 'one handbook entry at 0.5 % lies 21 % below the model, its neighbours within 4 %: unresolved'
        : 'no measured conductivity of formic acid in such a mixture was found';
    case 'acetic acid':
      return 'the handbook lies 6-39 % below the model in water, more the stronger the acid: unresolved';
    case 'trifluoroacetic acid':
      return 'counted as fully dissociated: an upper bound';
    case 'ammonium bicarbonate':
      return 'hydrolysis and loss of carbon dioxide left out: really about 5-10 % lower (from memory)';
    default:
      return blend.organic_fraction > 0.8
        ? 'ammonium salts may fall out in so much organic (common practice, no source)'
        : undefined;
  }
}
