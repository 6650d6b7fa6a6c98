/**
 * Vapour pressure: Antoine for the pure solvents, van Laar activities in between. The van Laar constants are fitted
 * to UNIFAC total pressures at 25 °C (within 1 %), so the mixture rests on a prediction, not on a measurement.
 * Additives at LC strength are neglected.
 */
import { moleFraction } from './composition.ts';
import type { Organic } from './solvents.ts';

export const VAPOUR_PRESSURE_SOURCES = [
  'Poling, Prausnitz, O’Connell 2001, The Properties of Gases and Liquids, appendix A (Antoine), computed',
  'Landolt-Bornstein IV/20 (acetonitrile), computed',
  'van Laar constants fitted to UNIFAC, 25 °C, computed',
] as const;

/**
 * log10 p = 10.11564 - 1687.537/(T-42.98); T in K, p in Pa. Valid 273-473 K, 0.5 %. Poling et al. 2001.
 * 298.15 K gives 3179 Pa (IAPWS 3170).
 */
export function waterVapourPressure(temperature_K: number): number {
  return 10 ** (10.11564 - 1687.537 / (temperature_K - 42.98));
}

/**
 * Antoine; T in K, p in Pa. Valid 281-353 K; acetonitrile 3 %, methanol and 2-propanol 1 %.
 * Poling et al. 2001; Landolt-Bornstein IV/20 (acetonitrile). 298.15 K gives 11839, 16941, 6021 Pa.
 */
export function organicVapourPressure(organic: Organic, temperature_K: number): number {
  const { a, b, c } = ANTOINE_LN[organic];
  return Math.exp(a - b / (temperature_K + c));
}

/** Partial pressures of organic and water over the liquid [Pa]. */
export interface VapourOver {
  organic_Pa: number;
  water_Pa: number;
}

/**
 * p_i = x_i γ_i p_i°, ln γ_o = A/(1+Ax/(B(1-x)))², ln γ_w = B/(1+B(1-x)/(Ax))²; T in K, p in Pa.
 * Valid 15-40 °C with the 25 °C activities, 5-8 %. 50 % acetonitrile (x = 0.256) at 298.15 K gives 13270 Pa in all.
 */
export function vapourOver(organic: Organic, fraction: number, temperature_K: number): VapourOver {
  const x = moleFraction(organic, fraction);
  const water = waterVapourPressure(temperature_K);
  const pure = organicVapourPressure(organic, temperature_K);
  if (x === 0) return { organic_Pa: 0, water_Pa: water };
  if (x === 1) return { organic_Pa: pure, water_Pa: 0 };
  const { a, b } = VAN_LAAR[organic];
  const lnOrganic = a / (1 + (a * x) / (b * (1 - x))) ** 2;
  const lnWater = b / (1 + (b * (1 - x)) / (a * x)) ** 2;
  return { organic_Pa: x * Math.exp(lnOrganic) * pure, water_Pa: (1 - x) * Math.exp(lnWater) * water };
}

/** Sum of `vapourOver` [Pa]. */
export function mixtureVapourPressure(organic: Organic, fraction: number, temperature_K: number): number {
  const { organic_Pa, water_Pa } = vapourOver(organic, fraction, temperature_K);
  return organic_Pa + water_Pa;
}

const LN10 = Math.LN10;

const ANTOINE_LN: Readonly<Record<Organic, { a: number; b: number; c: number }>> = {
  acetonitrile: { a: 21.923166, b: 3436.3205, c: -24.208 },
  methanol: { a: 10.20277 * LN10, b: 1580.08 * LN10, c: -33.65 },
  '2-propanol': { a: 10.24268 * LN10, b: 1580.92 * LN10, c: -53.54 },
};

/** a = ln γ∞ of the organic in water, b = ln γ∞ of water in the organic. */
const VAN_LAAR: Readonly<Record<Organic, { a: number; b: number }>> = {
  acetonitrile: { a: 2.5441, b: 2.0155 },
  methanol: { a: 0.7915, b: 0.4669 },
  '2-propanol': { a: 2.915, b: 1.0233 },
};
