/**
 * Additives without data here, for example dimethyl sulfoxide: every property is computed as if they were absent, widened by
 * what such a share might do, marked, and asked as a measurement. A property that the person measured keeps its own range.
 * The widening is judgement: between nothing and a substance whose own property differs by the stated factor, in proportion to
 * its share; a dissolved substance may bring ions of a strong electrolyte, or be active at the surface.
 */
import { type Estimate, MEASURED } from '../estimate.ts';
import type { LiquidSpec } from '../setup.ts';
import type { LiquidProperties } from './liquid-properties.ts';

/** How far the property of an unknown solvent may lie from the mixture's, as a factor down and up at a share of one. Judgement. */
const SOLVENT: Record<Widened, { down: number; up: number }> = {
  density_kg_m3: { down: 1.3, up: 1.5 },
  viscosity_mPa_s: { down: 2, up: 10 },
  surface_tension_mN_m: { down: 3, up: 2 },
  permittivity_relative: { down: 5, up: 2 },
  vapour_pressure_kPa: { down: 10, up: 10 },
  conductivity_S_m: { down: 10, up: 10 },
};
type Widened = Exclude<keyof LiquidProperties, 'pH' | 'ionic_strength_mol_m3'>;

/** Molar conductivity of a fast strong 1:1 electrolyte in water [S m2/mol]; for mM given, conductivity may rise by it. */
const STRONG_ELECTROLYTE = 0.0125;
/** A dissolved substance may be a surfactant: surface tension down by this factor at any concentration. Judgement. */
const SURFACE_ACTIVE = 1.3;

const ASKED: Partial<Record<Widened, string>> = {
  conductivity_S_m: 'conductivity (50 µL cell)',
  surface_tension_mN_m: 'surface tension (pendant drop, or the onset of a known emitter)',
};

export function widenedByOthers(properties: LiquidProperties, liquid: LiquidSpec): LiquidProperties {
  const others = liquid.other_additives ?? [];
  if (others.length === 0) return properties;
  const names = others.map(({ name }) => name).join(', ');
  const share = others.reduce((sum, { percent }) => sum + (percent ?? 0), 0) / 100;
  const dissolved_mM = others.reduce((sum, { mM }) => sum + (mM ?? 0), 0);
  const widened = { ...properties };
  for (const key of Object.keys(SOLVENT) as Widened[]) {
    const estimate = properties[key];
    if (estimate.basis.startsWith(MEASURED)) continue;
    let { down, up } = SOLVENT[key];
    down **= share;
    up **= share;
    if (key === 'surface_tension_mN_m' && dissolved_mM > 0) down *= SURFACE_ACTIVE;
    let high = estimate.high * up;
    if (key === 'conductivity_S_m') high += STRONG_ELECTROLYTE * dissolved_mM;
    widened[key] = marked(estimate, estimate.low / down, high, names);
  }
  if (properties.pH) widened.pH = marked(properties.pH, properties.pH.low - 1, properties.pH.high + 1, names);
  widened.ionic_strength_mol_m3 = marked(
    properties.ionic_strength_mol_m3,
    properties.ionic_strength_mol_m3.low,
    properties.ionic_strength_mol_m3.high + dissolved_mM,
    names,
  );
  return widened;
}

/** What to measure because an additive has no data here; sentences. */
export function measurementsAsked(liquid: LiquidSpec): string[] {
  const others = liquid.other_additives ?? [];
  if (others.length === 0) return [];
  const missing = (Object.entries(ASKED) as [Widened, string][])
    .filter(([key]) => liquid[key as 'conductivity_S_m' | 'surface_tension_mN_m'] === undefined)
    .map(([, words]) => words);
  const names = others.map(({ name }) => name).join(', ');
  const start = `No data for ${names}: this plan is computed without it and its ranges are widened (judgement).`;
  return [
    missing.length === 0 ? start : `${start} Measure the ${missing.join(' and the ')} of this very liquid.`,
  ];
}

function marked(estimate: Estimate, low: number, high: number, names: string): Estimate {
  const note = `computed without ${names}, for which there are no data here`;
  return { ...estimate, low, high, valid: false, note: estimate.note ? `${note}; ${estimate.note}` : note };
}
