import type { Estimate } from '../estimate.ts';

/** What the plan says about one set-up at one composition. Keys carry their unit; each value its range, basis and sources. */
export interface Plan {
  liquid: {
    surface_tension_mN_m: Estimate;
    conductivity_S_m: Estimate;
    density_kg_m3: Estimate;
    viscosity_mPa_s: Estimate;
    permittivity_relative: Estimate;
    vapour_pressure_kPa: Estimate;
    pH?: Estimate;
  };
  flow_nL_min: Estimate;
  contact_line_radius_um: number;
  onset_V: Estimate;
  window_low_V: Estimate;
  window_high_V: Estimate;
  advised_V: Estimate;
  /** What the supply must give for the advised voltage at the tip: advised + I R. */
  advised_supply_V: Estimate;
  /** Tip voltage at the stated supply, or the advised one where no supply is stated; absent when no cone-jet exists there. */
  tip_V?: Estimate;
  current_nA: Estimate;
  jet_diameter_nm: Estimate;
  droplet_diameter_nm: Estimate;
  minimum_flow_nL_min: Estimate;
  ohmic_resistance_Mohm: Estimate;
  ohmic_drop_V: Estimate;
  feed_pressure_bar: Estimate;
  electric_state: ElectricState;
  /** What narrows this plan most, in one sentence. */
  limited_by: string;
  warnings: string[];
  cautions: string[];
  /** One row for each line of the gradient table, fixed flow and emitter. */
  along_gradient: GradientRow[];
  /** What this version does not compute yet or cannot know. */
  not_known: string[];
}

export type ElectricState =
  | { kind: 'cone-jet expected'; sentence: string }
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
}
