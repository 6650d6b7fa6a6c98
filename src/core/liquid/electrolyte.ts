/**
 * Debye-Hückel-Onsager: how ions of finite strength lose activity and mobility. Ion size 3.5 Å, set once and not
 * tuned. Good to 0.1 mol/L in water (KCl: 0.1 % at 0.01 mol/L, 1 % at 0.1 mol/L); no ion pairing, so too high where
 * the permittivity is below about 48. Source: Robinson, Stokes 1959, Electrolyte Solutions, from memory.
 */
import { type Ion, ionConductivity } from './ions.ts';
import { mixturePermittivity } from './permittivity.ts';
import type { Organic } from './solvents.ts';
import { mixtureViscosity } from './viscosity.ts';

/** A_L [1e-4 S m2/mol per sqrt(mol/L)], B_L and A_DH [per sqrt(mol/L)], B_DH [1/Å per sqrt(mol/L)]. */
export interface OnsagerConstants {
  electrophoretic: number;
  relaxation: number;
  activity: number;
  inverseLength: number;
}

/** The liquid in which ions move. */
export interface Medium {
  organic: Organic;
  fraction: number;
  temperature_K: number;
}

/**
 * A_L = 82.501/(η_P·sqrt(εT)), B_L = 8.2046e5/(εT)^1.5, A_DH = 1.8248e6/(εT)^1.5, B_DH = 50.29/sqrt(εT).
 * 1:1 electrolytes, any solvent. Water at 298.15 K gives 60.6, 0.2295, 0.5105, 0.3289.
 */
export function onsagerConstants({ organic, fraction, temperature_K }: Medium): OnsagerConstants {
  const et = mixturePermittivity(organic, fraction, temperature_K) * temperature_K;
  const poise = 10 * mixtureViscosity(organic, fraction, temperature_K);
  return {
    electrophoretic: 82.501 / (poise * Math.sqrt(et)),
    relaxation: 8.2046e5 / et ** 1.5,
    activity: 1.8248e6 / et ** 1.5,
    inverseLength: 50.29 / Math.sqrt(et),
  };
}

/**
 * log10 γ = -A_DH(√I/(1+√I) - 0.3I), I in mol/L, single charges. Valid to 0.5 mol/L, 3 %; the ionic strength is
 * capped there. Davies 1962, from memory. Water at 298.15 K, 0.01 mol/L gives γ = 0.902.
 */
export function activityCoefficient(constants: OnsagerConstants, ionicStrength_mol_L: number): number {
  const i = Math.min(ionicStrength_mol_L, DAVIES_LIMIT_MOL_L);
  const root = Math.sqrt(i);
  return 10 ** (-constants.activity * (root / (1 + root) - 0.3 * i));
}

/**
 * κ = Σ c_i[λ_i - (A_L/2 + B_L λ_i)·√I/(1+B_DH·a·√I)], c in mol/m3, κ in S/m, single charges, I = ½Σc_i.
 * Valid to 0.1 mol/L, 1 %. 9.97 mol/m3 KCl in water at 298.15 K gives 0.1408 S/m.
 */
export function ionsConductivity(contents: readonly (readonly [Ion, number])[], medium: Medium): number {
  const constants = onsagerConstants(medium);
  const strength_mol_L = contents.reduce((sum, [, c]) => sum + c, 0) / 2 / 1000;
  const root = Math.sqrt(strength_mol_L);
  const drag = root / (1 + constants.inverseLength * ION_SIZE_ANGSTROM * root);
  let conductivity = 0;
  for (const [ion, concentration] of contents) {
    const limit = ionConductivity(ion, medium.organic, medium.fraction, medium.temperature_K);
    const slowed = limit - ((constants.electrophoretic / 2) * 1e-4 + constants.relaxation * limit) * drag;
    conductivity += concentration * Math.max(0, slowed);
  }
  return conductivity;
}

const ION_SIZE_ANGSTROM = 3.5;
const DAVIES_LIMIT_MOL_L = 0.5;
