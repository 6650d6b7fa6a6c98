/** Density of the pure solvents, 15 to 40 °C at 1 atm; apart from density.ts because composition needs it. */
import { ZERO_CELSIUS } from '../constants.ts';
import { type Organic, REFERENCE_K } from './solvents.ts';

/**
 * ρ = 999.97495·(1 - (t-3.983035)²(t+301.797)/(522528.9(t+69.34881))), t in °C; T in K, ρ in kg/m3.
 * Valid 0-40 °C, 0.001 %. Tanaka et al. 2001, Metrologia 38, 301. 298.15 K gives 997.047 kg/m3.
 */
export function waterDensity(temperature_K: number): number {
  const t = temperature_K - ZERO_CELSIUS;
  return 999.97495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)));
}

/**
 * ρ = ρ25 + slope·(t-25); T in K, ρ in kg/m3. Valid 15-40 °C, 0.05 % (2-propanol 0.2 % at 40 °C).
 * Source: Perry's Handbook (acetonitrile), a reference equation of state (methanol), measured densities of the NIST
 * archive (2-propanol); computed fits. 298.15 K gives 776.6, 786.33, 780.9 kg/m3.
 */
export function organicDensity(organic: Organic, temperature_K: number): number {
  const { at25, slope } = PURE[organic];
  return at25 + slope * (temperature_K - REFERENCE_K);
}

const PURE: Readonly<Record<Organic, { at25: number; slope: number }>> = {
  acetonitrile: { at25: 776.6, slope: -1.072 },
  methanol: { at25: 786.33, slope: -0.9385 },
  '2-propanol': { at25: 780.9, slope: -0.986 },
};
