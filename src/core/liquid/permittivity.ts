/**
 * Static relative permittivity: quadratic in temperature for the pure solvents; mixtures linear in volume fraction
 * (acetonitrile, 2-propanol) or in mass fraction with a small excess (methanol). Accuracy 3 % (2-propanol 4 %),
 * expected, not verified in mixtures; the cone-jet depends weakly on it.
 */
import { massFraction } from './composition.ts';
import { type Organic, REFERENCE_K } from './solvents.ts';

export const PERMITTIVITY_SOURCES = [
  'IAPWS R8-97 (water), computed fit',
  'CRC Handbook, permittivity of liquids (organics), computed fit',
  'Albright, Gosting 1946, J. Am. Chem. Soc. 68, 1061 (methanol and water), from memory',
] as const;

/** ε = 78.409 - 0.3590d + 7.86e-4d², d = T-298.15 K. Valid 15-40 °C, 0.001 of IAPWS 1997. 298.15 K gives 78.41. */
export function waterPermittivity(temperature_K: number): number {
  const d = temperature_K - REFERENCE_K;
  return 78.409 - 0.359 * d + 7.86e-4 * d * d;
}

/** ε = ε25 + c1·d + c2·d², d = T-298.15 K. Valid 15-40 °C, 1 %. CRC Handbook. 298.15 K: 35.69, 32.61, 19.26. */
export function organicPermittivity(organic: Organic, temperature_K: number): number {
  const d = temperature_K - REFERENCE_K;
  const [c0, c1, c2] = PURE[organic];
  return c0 + c1 * d + c2 * d * d;
}

/**
 * Acetonitrile, 2-propanol: ε = (1-φ)ε_w + φε_o. Methanol: ε = (1-w)ε_w + wε_o + w(1-w)[3.835 - 0.636(1-2w)].
 * φ before mixing, T in K. Valid 15-40 °C, 3-4 %. 50 % acetonitrile at 298.15 K gives 57.0.
 */
export function mixturePermittivity(organic: Organic, fraction: number, temperature_K: number): number {
  const water = waterPermittivity(temperature_K);
  const pure = organicPermittivity(organic, temperature_K);
  if (organic !== 'methanol') return (1 - fraction) * water + fraction * pure;
  const w = massFraction(organic, fraction);
  return (1 - w) * water + w * pure + w * (1 - w) * (3.835 - 0.636 * (1 - 2 * w));
}

const PURE: Readonly<Record<Organic, readonly [number, number, number]>> = {
  acetonitrile: [35.69, -0.2035, 0.00224],
  methanol: [32.61, -0.1568, 0.00129],
  '2-propanol': [19.26, -0.1594, 0.00044],
};
