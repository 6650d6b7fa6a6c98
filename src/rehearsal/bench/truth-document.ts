/** The hidden truth as a document: every number under a name with its unit. Written beside rehearsed files, and shown at the end. */
import { MN_M, NL_MIN, UM } from '../../core/units.ts';
import type { Bench } from './bench.ts';
import { changedNames, effectWords } from './effect-words.ts';
import type { FaultEffects } from './fault-effects.ts';

export interface TruthDocument {
  invented: true;
  seed: number;
  rim_um: number;
  contact_radius_um: number;
  surface_tension_mN_m: number;
  conductivity_S_m: number;
  conductivity_over_model: number;
  /** At the set-up's distance, sound and fresh. */
  onset_V: number;
  steady_from_V: number;
  steady_down_to_V: number;
  tilt_from_V: number;
  several_jets_from_V: number;
  best_V: number;
  minimum_flow_nL_min: number;
  current_factor: number;
  inlet_axis_at_mm: number;
  best_distance_mm: number;
  ageing_percent_per_min: number;
  fault: { id: string; name: string; from_s: number; words: string[]; effects: Partial<FaultEffects> } | null;
}

export function truthDocument({ truth, tip }: Bench): TruthDocument {
  const { liquid, fault } = truth;
  const onset = tip.onset(truth.contactRadius, truth.setup.inlet.distance_mm * 1e-3, liquid.surfaceTension);
  const volts = (ratio: number) => rounded(ratio * onset, 4);
  return {
    invented: true,
    seed: truth.seed,
    rim_um: rounded((2 * truth.rimRadius) / UM),
    contact_radius_um: rounded(truth.contactRadius / UM),
    surface_tension_mN_m: rounded(liquid.surfaceTension / MN_M),
    conductivity_S_m: rounded(liquid.conductivity),
    conductivity_over_model: rounded(truth.conductivityFactor),
    onset_V: volts(1),
    steady_from_V: volts(truth.steadyFrom),
    steady_down_to_V: volts(truth.steadyFrom * truth.returnShare),
    tilt_from_V: volts(truth.tiltFrom),
    several_jets_from_V: volts(truth.severalFrom),
    best_V: volts(truth.bestRatio),
    minimum_flow_nL_min: rounded(truth.minimumFlow / NL_MIN),
    current_factor: rounded(truth.currentFactor),
    inlet_axis_at_mm: rounded(truth.centre_mm),
    best_distance_mm: rounded(truth.bestDistance_mm),
    ageing_percent_per_min: rounded(100 * truth.ageing_per_min),
    fault: fault
      ? {
          id: fault.id,
          name: fault.name,
          from_s: fault.from_s,
          words: effectWords(fault.effects),
          effects: changed(fault.effects),
        }
      : null,
  };
}

function changed(effects: FaultEffects): Partial<FaultEffects> {
  return Object.fromEntries(changedNames(effects).map((name) => [name, effects[name]]));
}

function rounded(value: number, digits = 3): number {
  return Number(value.toPrecision(digits));
}
