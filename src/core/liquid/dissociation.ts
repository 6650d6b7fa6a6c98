/**
 * Acids in water with an organic: pKa, and the H+ they leave, with activities. pKa rises linearly with the mole
 * fraction of organic; in pure acetonitrile the line fails completely (22, not 9). Accuracy: water 0.01; 50 %
 * acetonitrile 0.2; beyond 70 % only the direction is known.
 */
import { GAS_CONSTANT } from '../constants.ts';
import { moleFraction } from './composition.ts';
import { activityCoefficient, type Medium, onsagerConstants } from './electrolyte.ts';
import { type Organic, REFERENCE_K } from './solvents.ts';

export type WeakAcid = 'formic acid' | 'acetic acid';

/** dH is the enthalpy of dissociation [J/mol]. */
interface Constant {
  pKa: number;
  dH: number;
}

/**
 * pKa = pKa25 + dH/(2.303R)(1/T-1/298.15) + s·x, x organic mole fraction. Valid 15-40 °C and, for the slope,
 * acetonitrile φ <= 0.7, methanol x <= 0.7, 2-propanol φ <= 0.5. Slopes: acetonitrile 5.2 ± 0.7 (formic), 5.6
 * (acetic), after Barbosa et al. 1994, Anal. Chim. Acta 288, 271, read (abstract); methanol 2.55, after Shedlovsky,
 * Kay 1956, from memory; 2-propanol 5.2, judgement. Formic acid in 50 % acetonitrile at 298.15 K gives 5.08.
 */
export function acidPKa(acid: WeakAcid, { organic, fraction, temperature_K }: Medium): number {
  return (
    atTemperature(ACIDS[acid], temperature_K) + PKA_SLOPE[organic][acid] * moleFraction(organic, fraction)
  );
}

/** pKa of trifluoroacetic acid in water (literature 0.2 to 0.6, from memory). */
export const TRIFLUOROACETIC_PKA = 0.5;

/** Ammonium: 9.25 at 25 °C, 51.95 kJ/mol; falls about 0.6 per unit volume fraction of organic (from memory). */
export function ammoniumPKa({ fraction, temperature_K }: Medium): number {
  return atTemperature({ pKa: 9.25, dH: 51950 }, temperature_K) - 0.6 * fraction;
}

/** CO2(aq): 6.352 at 25 °C, 9.15 kJ/mol, in water. */
export function carbonicPKa({ temperature_K }: Medium): number {
  return atTemperature({ pKa: 6.352, dH: 9150 }, temperature_K);
}

/** pKw of water: 13.998 at 25 °C (Kw 1.004e-14), 55.8 kJ/mol; 0.02 over 15-40 °C. Robinson, Stokes 1959, from memory. */
export function waterPKw(temperature_K: number): number {
  return atTemperature({ pKa: 13.998, dH: 55800 }, temperature_K);
}

/** Concentrations [mol/m3] and pH on the scale of the medium itself. */
export interface Dissociated {
  hydrogen_mol_m3: number;
  hydroxide_mol_m3: number;
  anion_mol_m3: number;
  pH: number;
}

/**
 * Solves [H] = [A] + [OH] with Ka = γ²[H][A]/[HA], Kw = γ²[H][OH], I = [H] + stray salt; c in mol/m3.
 * `pKa` = -Infinity means fully dissociated. Formic acid 26.5 mol/m3 in water at 298.15 K gives [H] 2.18 mol/m3, pH 2.68.
 */
export function dissociate(acid_mol_m3: number, pKa: number, medium: Medium, stray_mol_m3 = 0): Dissociated {
  const constants = onsagerConstants(medium);
  const ka = 10 ** -pKa * 1000;
  const kw = 10 ** -waterPKw(medium.temperature_K) * 1e6;
  const anionOf = (h: number, g2: number) =>
    ka === Number.POSITIVE_INFINITY ? acid_mol_m3 : (acid_mol_m3 * ka) / (ka + g2 * h);
  const gammaAt = (h: number) => activityCoefficient(constants, (h + stray_mol_m3) / 1000);
  // The excess of acid over base grows with h, so halving in log h is safe at every strength.
  let low = Math.log(1e-9);
  let high = Math.log(acid_mol_m3 + 1);
  for (let k = 0; k < HALVINGS; k += 1) {
    const middle = (low + high) / 2;
    const h = Math.exp(middle);
    const g2 = gammaAt(h) ** 2;
    if (h - anionOf(h, g2) - kw / (g2 * h) > 0) high = middle;
    else low = middle;
  }
  const h = Math.exp((low + high) / 2);
  const gamma = gammaAt(h);
  return {
    hydrogen_mol_m3: h,
    hydroxide_mol_m3: kw / (gamma ** 2 * h),
    anion_mol_m3: anionOf(h, gamma ** 2),
    pH: -Math.log10((gamma * h) / 1000),
  };
}

/**
 * δ = 0.4826x² + 0.2632x, methanol: pH on the scale of the mixture = pH on the scale of water - δ. Valid φ <= 0.6, 0.01.
 * Kazakevich, LoBrutto 2007, HPLC for Pharmaceutical Scientists, table 4-5, read (abstract). x = 0.4 gives 0.18.
 */
export function methanolPHShift(x: number): number {
  return 0.4826 * x * x + 0.2632 * x;
}

const HALVINGS = 80;

const ACIDS: Readonly<Record<WeakAcid, Constant>> = {
  'formic acid': { pKa: 3.752, dH: -335 },
  'acetic acid': { pKa: 4.756, dH: -410 },
};

const PKA_SLOPE: Readonly<Record<Organic, Readonly<Record<WeakAcid, number>>>> = {
  acetonitrile: { 'formic acid': 5.2, 'acetic acid': 5.6 },
  methanol: { 'formic acid': 2.55, 'acetic acid': 2.55 },
  '2-propanol': { 'formic acid': 5.2, 'acetic acid': 5.6 },
};

function atTemperature({ pKa, dH }: Constant, temperature_K: number): number {
  return pKa + (dH / (Math.LN10 * GAS_CONSTANT)) * (1 / temperature_K - 1 / REFERENCE_K);
}
