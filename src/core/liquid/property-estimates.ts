/**
 * Ranges of the non-electrical properties, from the errors each model is known or expected to have. More than one
 * organic: the larger error of the binaries, half as much again, since no ternary was measured.
 */
import { type Estimate, type EstimateOptions, estimateRelative } from '../estimate.ts';
import { type Blend, overBinaries, worstOf } from './composition.ts';
import { DENSITY_SOURCES, mixtureDensity } from './density.ts';
import { mixturePermittivity, PERMITTIVITY_SOURCES } from './permittivity.ts';
import { type Organic, temperatureValid, VOLUME_K } from './solvents.ts';
import { mixtureSurfaceTension, SURFACE_TENSION_SOURCES } from './surface-tension.ts';
import { mixtureVapourPressure, VAPOUR_PRESSURE_SOURCES } from './vapour-pressure.ts';
import { mixtureViscosity, VISCOSITY_SOURCES } from './viscosity.ts';

export function densityEstimate(blend: Blend, temperature_K: number): Estimate {
  const value = overBinaries(blend, (o, f) => mixtureDensity(o, f, temperature_K));
  return spread(blend, value, DENSITY_ERROR, {
    basis: 'ideal volumes with a Redlich-Kister excess',
    sources: DENSITY_SOURCES,
    valid: temperatureValid(temperature_K),
    note: join(temperatureNote(temperature_K), ternaryNote(blend)),
  });
}

export function viscosityEstimate(blend: Blend, temperature_K: number): Estimate {
  const value = overBinaries(blend, (o, f) => mixtureViscosity(o, f, temperature_K) * 1e3, 'logarithmic');
  const coldPropanol =
    blend.shares.some(({ organic }) => organic === '2-propanol') && temperature_K < VOLUME_K - EDGE_K;
  const rich =
    blend.organic_fraction >= 0.65 && blend.shares.some(({ organic }) => organic === 'acetonitrile');
  return spread(blend, value, rich ? VISCOSITY_ERROR_RICH : VISCOSITY_ERROR, {
    basis: 'Jouyban-Acree in volume fraction',
    sources: VISCOSITY_SOURCES,
    valid: temperatureValid(temperature_K) && !coldPropanol,
    note: join(
      temperatureNote(temperature_K),
      coldPropanol ? '2-propanol mixtures were fitted from 20 °C up' : undefined,
      ternaryNote(blend),
    ),
  });
}

export function surfaceTensionEstimate(blend: Blend, temperature_K: number): Estimate {
  const value = overBinaries(blend, (o, f) => mixtureSurfaceTension(o, f, temperature_K) * 1e3);
  const dilute = blend.organic_fraction > 0 && blend.organic_fraction < 0.08;
  return spread(blend, value, dilute ? TENSION_ERROR_DILUTE : TENSION_ERROR, {
    basis: 'Connors-Wright between IAPWS water and the pure organic',
    sources: SURFACE_TENSION_SOURCES,
    valid: temperatureValid(temperature_K),
    note: join(
      temperatureNote(temperature_K),
      'clean liquid at rest: peptides, lipids and detergents lower it, in water-rich liquid by up to 10-20 mN/m',
      dilute ? 'below 8 % organic the table does not reach' : undefined,
      ternaryNote(blend),
    ),
  });
}

export function permittivityEstimate(blend: Blend, temperature_K: number): Estimate {
  const value = overBinaries(blend, (o, f) => mixturePermittivity(o, f, temperature_K));
  return spread(blend, value, PERMITTIVITY_ERROR, {
    basis: 'mixing rule between the pure solvents',
    sources: PERMITTIVITY_SOURCES,
    valid: temperatureValid(temperature_K),
    note: join(temperatureNote(temperature_K), ternaryNote(blend)),
  });
}

export function vapourPressureEstimate(blend: Blend, temperature_K: number): Estimate {
  const value = overBinaries(blend, (o, f) => mixtureVapourPressure(o, f, temperature_K) / 1e3);
  const mixed = blend.organic_fraction > 0 && blend.organic_fraction < 1;
  return spread(blend, value, mixed ? VAPOUR_ERROR_MIXED : VAPOUR_ERROR, {
    basis: 'Antoine with van Laar activities fitted to a group-contribution prediction',
    sources: VAPOUR_PRESSURE_SOURCES,
    valid: temperatureValid(temperature_K),
    note: join(temperatureNote(temperature_K), ternaryNote(blend)),
  });
}

export function temperatureNote(temperature_K: number): string | undefined {
  return temperatureValid(temperature_K) ? undefined : 'outside 15 to 40 °C the formulas are extrapolated';
}

export function ternaryNote(blend: Blend): string | undefined {
  return blend.shares.length > 1
    ? 'more than one organic: volume-weighted mean of the binaries with water at the same total, not measured'
    : undefined;
}

export function join(...notes: (string | undefined)[]): string | undefined {
  const present = notes.filter((note) => note !== undefined);
  return present.length === 0 ? undefined : present.join('; ');
}

export const TERNARY_WIDENING = 1.5;

/** Rounding slack of 20 + 273.15 [K]. */
const EDGE_K = 1e-9;

interface ErrorTable {
  water: number;
  organics: Readonly<Record<Organic, number>>;
}

/** Relative half-ranges. Water columns allow for the dissolved additive, not for the reference formula. */
const DENSITY_ERROR: ErrorTable = {
  water: 0.001,
  organics: { acetonitrile: 0.005, methanol: 0.002, '2-propanol': 0.004 },
};
const VISCOSITY_ERROR: ErrorTable = {
  water: 0.01,
  organics: { acetonitrile: 0.06, methanol: 0.04, '2-propanol': 0.08 },
};
const VISCOSITY_ERROR_RICH: ErrorTable = {
  water: 0.01,
  organics: { acetonitrile: 0.1, methanol: 0.04, '2-propanol': 0.08 },
};
const TENSION_ERROR: ErrorTable = {
  water: 0.01,
  organics: { acetonitrile: 0.04, methanol: 0.03, '2-propanol': 0.05 },
};
const TENSION_ERROR_DILUTE: ErrorTable = {
  water: 0.01,
  organics: { acetonitrile: 0.06, methanol: 0.04, '2-propanol': 0.08 },
};
const PERMITTIVITY_ERROR: ErrorTable = {
  water: 0.005,
  organics: { acetonitrile: 0.03, methanol: 0.03, '2-propanol': 0.04 },
};
const VAPOUR_ERROR: ErrorTable = {
  water: 0.01,
  organics: { acetonitrile: 0.03, methanol: 0.01, '2-propanol': 0.01 },
};
const VAPOUR_ERROR_MIXED: ErrorTable = {
  water: 0.01,
  organics: { acetonitrile: 0.08, methanol: 0.05, '2-propanol': 0.1 },
};

function spread(blend: Blend, value: number, errors: ErrorTable, options: EstimateOptions): Estimate {
  if (blend.shares.length === 0) return estimateRelative(value, errors.water, options);
  const widening = blend.shares.length > 1 ? TERNARY_WIDENING : 1;
  return estimateRelative(value, worstOf(blend, errors.organics) * widening, options);
}
