/**
 * The liquid of a set-up: every property the spray needs, with its range, sources and validity. A conductivity or
 * surface tension the person measured replaces the model.
 */
import { ZERO_CELSIUS } from '../constants.ts';
import { inputError } from '../errors.ts';
import { type Estimate, measured } from '../estimate.ts';
import type { LiquidSpec } from '../setup.ts';
import { type Blend, blendOf } from './composition.ts';
import { type Additive, acidConcentration, isAcid } from './conductivity.ts';
import { conductivityEstimate, ionicStrengthEstimate, phEstimate } from './conductivity-estimate.ts';
import type { LiquidProperties } from './liquid-properties.ts';
import { widenedByOthers } from './other-additives.ts';
import {
  densityEstimate,
  permittivityEstimate,
  surfaceTensionEstimate,
  vapourPressureEstimate,
  viscosityEstimate,
} from './property-estimates.ts';

/** Customary uncertainty of a bench reading: a small conductivity cell, a pendant drop. Judgement. */
const MEASURED_CONDUCTIVITY_RELATIVE = 0.05;
const MEASURED_SURFACE_TENSION_RELATIVE = 0.02;

export function liquidProperties(liquid: LiquidSpec): LiquidProperties {
  const blend = liquidBlend(liquid);
  const additive = liquidAdditive(liquid);
  const temperature_K = liquid.temperature_C + ZERO_CELSIUS;
  if (!(temperature_K > LOWEST_LIQUID_K && temperature_K < HIGHEST_LIQUID_K)) {
    throw inputError(
      'out of range',
      'liquid.temperature_C',
      `${liquid.temperature_C} °C`,
      'a liquid, -20 to 95 °C',
    );
  }
  const properties: LiquidProperties = {
    density_kg_m3: densityEstimate(blend, temperature_K),
    viscosity_mPa_s: viscosityEstimate(blend, temperature_K),
    surface_tension_mN_m:
      given(
        liquid.surface_tension_mN_m,
        'liquid.surface_tension_mN_m',
        MEASURED_SURFACE_TENSION_RELATIVE,
        'mN/m',
      ) ?? surfaceTensionEstimate(blend, temperature_K),
    permittivity_relative: permittivityEstimate(blend, temperature_K),
    vapour_pressure_kPa: vapourPressureEstimate(blend, temperature_K),
    conductivity_S_m:
      given(liquid.conductivity_S_m, 'liquid.conductivity_S_m', MEASURED_CONDUCTIVITY_RELATIVE, 'S/m') ??
      conductivityEstimate(blend, additive, temperature_K),
    ionic_strength_mol_m3: ionicStrengthEstimate(blend, additive, temperature_K),
  };
  const pH = phEstimate(blend, additive, temperature_K);
  return widenedByOthers(pH === undefined ? properties : { ...properties, pH }, liquid);
}

/** The solvents of a set-up as a blend; an additive without data is left out and the rest taken as the whole. */
export function liquidBlend(liquid: LiquidSpec): Blend {
  const other = (liquid.other_additives ?? []).reduce((sum, { percent }) => sum + (percent ?? 0), 0);
  const organic = liquid.acetonitrile_percent + liquid.methanol_percent + liquid.propanol_2_percent;
  if (!(organic + other <= 100 + 1e-9))
    throw inputError(
      'out of range',
      'liquid content',
      `${organic + other} %`,
      'at most 100 % by volume in all',
    );
  const known = 1 - other / 100;
  if (known <= 0)
    throw inputError(
      'out of range',
      'liquid.other_additives',
      `${other} %`,
      'less than 100 %: some known solvent',
    );
  return blendOf({
    acetonitrile: Math.min(100, liquid.acetonitrile_percent / known),
    methanol: Math.min(100, liquid.methanol_percent / known),
    '2-propanol': Math.min(100, liquid.propanol_2_percent / known),
  });
}

/** The additive of a set-up [mol/m3]; refuses one without its amount. */
export function liquidAdditive(liquid: LiquidSpec): Additive {
  const { additive: name } = liquid;
  if (name === 'none') return { name, concentration_mol_m3: 0 };
  if (isAcid(name)) {
    const percent = amount(liquid.additive_percent, 'liquid.additive_percent', '%', 50);
    return { name, concentration_mol_m3: acidConcentration(name, percent) };
  }
  return { name, concentration_mol_m3: amount(liquid.additive_mM, 'liquid.additive_mM', 'mM', 5000) };
}

/** Temperatures at which every formula is still finite [K]. */
const LOWEST_LIQUID_K = 253.15;
const HIGHEST_LIQUID_K = 368.15;

function amount(value: number | undefined, where: string, unit: string, most: number): number {
  if (value === undefined) throw inputError('missing', where, '', `the amount of additive in ${unit}`);
  if (!(value >= 0 && value <= most)) {
    throw inputError('out of range', where, `${value} ${unit}`, `0 to ${most} ${unit}`);
  }
  return value;
}

function given(
  value: number | undefined,
  where: string,
  relative: number,
  unit: string,
): Estimate | undefined {
  if (value === undefined) return undefined;
  if (!(value > 0 && Number.isFinite(value))) {
    throw inputError('out of range', where, `${value} ${unit}`, 'a positive number');
  }
  return {
    ...measured(value, relative, 'reading given with the set-up'),
    note: `measured value replaces the model; ±${relative * 100} % assumed for the reading`,
  };
}

export {
  type Blend,
  blendOf,
  massFraction,
  moleFraction,
  overBinaries,
  volumeFractionOfMass,
  volumeFractionOfMoles,
} from './composition.ts';
export {
  type AcidName,
  type Additive,
  acidConcentration,
  carbonatedWaterConductivity,
  mixtureConductivity,
  mixtureIonicStrength,
  mixturePH,
  STRAY_SALT,
} from './conductivity.ts';
export { blendConductivity } from './conductivity-estimate.ts';
export { contraction, excessMolarVolume, mixtureDensity, organicDensity, waterDensity } from './density.ts';
export { acidPKa, ammoniumPKa, dissociate, methanolPHShift, waterPKw } from './dissociation.ts';
export { activityCoefficient, ionsConductivity, type Medium, onsagerConstants } from './electrolyte.ts';
export { type Ion, ionConductivity, ionConductivityInWater } from './ions.ts';
export type { LiquidProperties } from './liquid-properties.ts';
export { measurementsAsked } from './other-additives.ts';
export { mixturePermittivity, organicPermittivity, waterPermittivity } from './permittivity.ts';
export { ORGANICS, type Organic } from './solvents.ts';
export { mixtureSurfaceTension, organicSurfaceTension, waterSurfaceTension } from './surface-tension.ts';
export {
  mixtureVapourPressure,
  organicVapourPressure,
  vapourOver,
  waterVapourPressure,
} from './vapour-pressure.ts';
export { mixtureViscosity, organicViscosity, waterViscosity } from './viscosity.ts';
