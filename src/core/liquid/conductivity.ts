/**
 * Conductivity of the spray liquid: the additive's ions, water's own, and a background of stray salt.
 * Weak acid with activities, Onsager slowing, modified Walden in mixtures. In water strong electrolytes are good to
 * 1 % and formic acid to 4 %; in mixtures this is a model without one measurement behind it (see
 * conductivity-estimate.ts). Hydrolysis of the salts (< 1 %, bicarbonate 5-10 %) and ion pairing are left out.
 */
import type { AdditiveName } from '../setup.ts';
import { acidPKa, ammoniumPKa, carbonicPKa, dissociate } from './dissociation.ts';
import { ionsConductivity, type Medium } from './electrolyte.ts';
import type { Ion } from './ions.ts';

/** An additive and its nominal concentration [mol/m3, the same number in mmol/L]. */
export interface Additive {
  name: AdditiveName;
  concentration_mol_m3: number;
}

/** Stray sodium, ammonium, dissolved glass, as a 1:1 salt [mol/m3]: 20 µmol/L in 5 to 30. Judgement. */
export const STRAY_SALT = { low: 0.005, central: 0.02, high: 0.03 } as const;

/**
 * c = (percent/100)·ρ/M; percent by volume, c in mol/m3. Formic 1220 kg/m3, acetic 1049, trifluoroacetic 1490 (from
 * memory). 0.1 % formic acid gives 26.5 mol/m3.
 */
export function acidConcentration(acid: AcidName, percent: number): number {
  const { density, molarMass } = PURE_ACID[acid];
  return ((percent / 100) * density) / molarMass;
}

export type AcidName = 'formic acid' | 'acetic acid' | 'trifluoroacetic acid';

export function isAcid(name: AdditiveName): name is AcidName {
  return name in PURE_ACID;
}

/**
 * κ of water with one organic, an additive and `stray_mol_m3` of 1:1 salt; S/m. Valid 15-40 °C, ionic strength up to
 * 0.1 mol/L; accuracy 5 % in water, factor 1.4 at 50 % acetonitrile, 2 or more at 90 %. Trifluoroacetic acid counts
 * as fully dissociated (upper bound). 0.1 % formic acid in water at 298.15 K without stray salt gives 0.0868 S/m.
 */
export function mixtureConductivity(additive: Additive, medium: Medium, stray_mol_m3: number): number {
  return ionsConductivity(contentsOf(additive, medium, stray_mol_m3), medium);
}

/** Ionic strength ½ Σ c z² [mol/m3] of all ions, stray salt included. 0.1 % formic acid in water: 2.1 mol/m3. */
export function mixtureIonicStrength(additive: Additive, medium: Medium, stray_mol_m3: number): number {
  return contentsOf(additive, medium, stray_mol_m3).reduce((sum, [, c]) => sum + c, 0) / 2;
}

/** pH of the medium itself; nothing for a liquid without additive, where stray salt and carbon dioxide decide. */
export function mixturePH(additive: Additive, medium: Medium, stray_mol_m3: number): number | undefined {
  if (additive.name === 'none') return undefined;
  if (isAcid(additive.name)) {
    return dissociate(additive.concentration_mol_m3, pKaOf(additive.name, medium), medium, stray_mol_m3).pH;
  }
  const acid = {
    'ammonium acetate': () => acidPKa('acetic acid', medium),
    'ammonium formate': () => acidPKa('formic acid', medium),
    'ammonium bicarbonate': () => carbonicPKa(medium),
  }[additive.name]();
  // A salt of a weak acid and a weak base, both hydrolysed alike.
  return (acid + ammoniumPKa(medium)) / 2;
}

/**
 * Water open to air: [H] = sqrt(K1·k_H·p + Kw), κ = [H](λ_H + λ_HCO3); p of CO2 in Pa, κ in S/m. 25 °C only (k_H =
 * 3.39e-4 mol/m3/Pa, from memory), 15 %. 42.6 Pa (420 ppm) gives 1.0e-4 S/m.
 */
export function carbonatedWaterConductivity(carbonDioxide_Pa: number): number {
  const medium: Medium = { organic: 'acetonitrile', fraction: 0, temperature_K: 298.15 };
  const dissolved = 3.39e-4 * carbonDioxide_Pa;
  const { hydrogen_mol_m3, anion_mol_m3, hydroxide_mol_m3 } = dissociate(
    dissolved + Math.sqrt(10 ** -carbonicPKa(medium) * 1000 * dissolved),
    carbonicPKa(medium),
    medium,
  );
  return ionsConductivity(
    [
      ['H+', hydrogen_mol_m3],
      ['HCO3-', anion_mol_m3],
      ['OH-', hydroxide_mol_m3],
    ],
    medium,
  );
}

const PURE_ACID: Readonly<Record<AcidName, { density: number; molarMass: number }>> = {
  'formic acid': { density: 1220, molarMass: 46.03e-3 },
  'acetic acid': { density: 1049, molarMass: 60.05e-3 },
  'trifluoroacetic acid': { density: 1490, molarMass: 114.02e-3 },
};

const ANION: Readonly<Record<Exclude<AdditiveName, 'none'>, Ion>> = {
  'formic acid': 'formate',
  'acetic acid': 'acetate',
  'trifluoroacetic acid': 'trifluoroacetate',
  'ammonium acetate': 'acetate',
  'ammonium formate': 'formate',
  'ammonium bicarbonate': 'HCO3-',
};

function pKaOf(acid: AcidName, medium: Medium): number {
  return acid === 'trifluoroacetic acid' ? Number.NEGATIVE_INFINITY : acidPKa(acid, medium);
}

function contentsOf(additive: Additive, medium: Medium, stray: number): (readonly [Ion, number])[] {
  const background: (readonly [Ion, number])[] = [
    ['stray cation', stray],
    ['stray anion', stray],
  ];
  const { name, concentration_mol_m3 } = additive;
  if (name !== 'none' && !isAcid(name)) {
    return [['NH4+', concentration_mol_m3], [ANION[name], concentration_mol_m3], ...background];
  }
  const acid = name === 'none' ? 0 : concentration_mol_m3;
  const pKa = name === 'none' ? 0 : pKaOf(name, medium);
  const split = dissociate(acid, pKa, medium, stray);
  const anion: Ion = name === 'none' ? 'formate' : ANION[name];
  return [
    ['H+', split.hydrogen_mol_m3],
    ['OH-', split.hydroxide_mol_m3],
    [anion, split.anion_mol_m3],
    ...background,
  ];
}
