/**
 * What the property files know about each pure solvent and its binary with water, beside the formulas themselves.
 * Organic fractions are volumes before mixing, measured at 20 °C.
 * Source: CRC Handbook of Chemistry and Physics, physical constants, from memory; densities see density.ts.
 */
export type Organic = 'acetonitrile' | 'methanol' | '2-propanol';

export const ORGANICS: readonly Organic[] = ['acetonitrile', 'methanol', '2-propanol'];

/** [kg/mol] */
export const WATER_MOLAR_MASS = 18.01528e-3;

/** [kg/mol] */
export const ORGANIC_MOLAR_MASS: Readonly<Record<Organic, number>> = {
  acetonitrile: 41.0519e-3,
  methanol: 32.0419e-3,
  '2-propanol': 60.095e-3,
};

/** The liquids reference covers this span; outside it every estimate is marked not valid [K]. */
export const LOWEST_VALID_K = 288.15;
export const HIGHEST_VALID_K = 313.15;
/** 25 °C [K], where most constants are given. */
export const REFERENCE_K = 298.15;
/** 20 °C [K], where volumes are measured before mixing. */
export const VOLUME_K = 293.15;
/** Slack for rounded temperatures such as 15 + 273.15 [K]. */
const EDGE_K = 1e-9;

export function temperatureValid(temperature_K: number): boolean {
  return temperature_K >= LOWEST_VALID_K - EDGE_K && temperature_K <= HIGHEST_VALID_K + EDGE_K;
}
