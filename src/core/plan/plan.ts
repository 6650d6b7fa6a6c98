import type { Estimate } from '../estimate.ts';
import type { Electrolysis } from '../feed/index.ts';
import type { GradientPlan, SprayState } from '../gradient/index.ts';
import type { BelowMinimum } from './below-minimum.ts';
import type { PlanCalibration } from './calibration.ts';
import type { HeldPressure } from './held-pressure.ts';
import type { PlanMeniscus } from './meniscus-of.ts';
import type { Sensitivity } from './sensitivity.ts';
import type { StartSequence } from './start-sequence.ts';
import type { PlanWindow } from './window-of.ts';

/** What the plan says about one set-up at one composition. Keys carry their unit; each value its range, basis and sources. */
export interface Plan {
  liquid: {
    surface_tension_mN_m: Estimate;
    conductivity_S_m: Estimate;
    density_kg_m3: Estimate;
    viscosity_mPa_s: Estimate;
    permittivity_relative: Estimate;
    vapour_pressure_kPa: Estimate;
    ionic_strength_mol_m3: Estimate;
    pH?: Estimate;
  };
  flow_nL_min: Estimate;
  contact_line_radius_um: number;
  onset_V: Estimate;
  window_low_V: Estimate;
  window_high_V: Estimate;
  advised_V: Estimate;
  /** What the supply must give for the advised voltage at the tip: advised + I R. No advice where `advice_withheld` says so. */
  advised_supply_V: Estimate;
  /** Why no supply voltage is advised; null where one is. */
  advice_withheld: string | null;
  /** The solved shape, or why there is none. */
  meniscus: PlanMeniscus;
  /** Present with a feed that holds a pressure: whether a meniscus bears it without field. */
  held_pressure?: HeldPressure;
  /** Probability of each state over the tip's voltage, and the edges with their ranges. */
  window: PlanWindow;
  /** Present where a supply is stated: the chances at what it leaves at the tip, draw by draw. */
  at_supply?: { supply_V: number; chances: Record<SprayState, number> };
  below_minimum: BelowMinimum;
  /** Tip voltage at the stated supply, or the advised one where no supply is stated; absent when no cone-jet exists there. */
  tip_V?: Estimate;
  current_nA: Estimate;
  /** Each scaling law alone [nA]; `current_nA` is their consensus. */
  current_laws_nA: { law: string; value: number; source: string }[];
  jet_diameter_nm: Estimate;
  droplet_diameter_nm: Estimate;
  minimum_flow_nL_min: Estimate;
  ohmic_resistance_Mohm: Estimate;
  ohmic_drop_V: Estimate;
  feed_pressure_bar: Estimate;
  electric_state: ElectricState;
  electrolysis: Electrolysis;
  /** What narrows this plan most, in one sentence. */
  limited_by: string;
  sensitivities: Sensitivity[];
  /** Present where observations were given. */
  calibration?: PlanCalibration;
  warnings: string[];
  cautions: string[];
  /** One row for each line of the gradient table, fixed flow and emitter. */
  along_gradient: GradientRow[];
  /** Along time at the tip: fixed voltage, ramp, minutes at risk, where to walk the voltage. Present where a gradient is given. */
  gradient?: GradientPlan;
  sequence: StartSequence;
  /** What this version does not compute yet or cannot know. */
  not_known: string[];
}

export type ElectricState =
  | { kind: 'cone-jet expected'; sentence: string }
  | { kind: 'no equilibrium'; sentence: string }
  | { kind: 'below onset'; sentence: string }
  | { kind: 'flow below the minimum'; sentence: string }
  | { kind: 'above window'; sentence: string }
  | { kind: 'no cone-jet at this supply and contact'; sentence: string };

export interface GradientRow {
  time_min: number;
  organic_percent: number;
  surface_tension_mN_m: number;
  conductivity_S_m: number;
  onset_V: number;
  window_low_V: number;
  window_high_V: number;
  current_nA: number;
  minimum_flow_nL_min: number;
  ohmic_drop_V: number;
  /** At the stated supply, else at the fixed one found for the elution; null where the tip stays below its onset. */
  supply_V: number | null;
  tip_V: number | null;
  state: ElectricState['kind'];
}
