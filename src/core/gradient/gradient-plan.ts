/**
 * What the plan says along a gradient, ready for JSON: every name carries its unit, nothing is NaN or infinite.
 * Probabilities are shares of equally weighted draws (0 to 1); bands are the 10th, 50th and 90th percentile of the draws.
 * Times are minutes of the run (0 = the start of the pump's table); compositions are at the tip.
 */
export interface Band {
  low: number[];
  middle: number[];
  high: number[];
}

/** As Band, null where no discharge is reached. */
export interface OpenBand {
  low: (number | null)[];
  middle: (number | null)[];
  high: (number | null)[];
}

export interface GradientPlan {
  delay: GradientDelay;
  /** One entry for each time in every list and band below. */
  times_min: number[];
  organic_percent: number[];
  part: GradientPart[];
  /** Tip voltages [V]. */
  onset_V: Band;
  steady_from_V: Band;
  tilt_from_V: Band;
  several_from_V: Band;
  discharge_from_V: OpenBand;
  /** What the supply must stand at for the tip to reach 'steady from' and 'tilt from' [V]. */
  supply_from_V: Band;
  supply_to_V: Band;
  current_nA: Band;
  minimum_flow_nL_min: Band;
  flow_nL_min: number;
  /** At 1.2 times the tip's onset. */
  ohmic_drop_V: Band;
  /** The drop's share of what stands between supply and inlet (0 to 1), at 1.2 times the tip's onset. */
  ohmic_share: Band;
  /** Share of draws whose minimum flow is above the flow. */
  below_minimum_flow_probability: number[];
  /** The best supply for this moment alone; null where none holds a draw. */
  best_alone: { supply_V: (number | null)[]; probability: number[] };
  /** No supply above this is advised: the least of the supply limit and the supply at which 10 % of the draws discharge. */
  ceiling_V: number[];
  elution: PartSpan & { rule: string };
  wash?: PartSpan;
  fixed: FixedSupply;
  /** State probabilities along the run at the supply that is judged: the stated one, else the fixed one. */
  judged: {
    supply_V: number;
    /** 'none': no supply is stated and none can be advised; judged at 0 V. */
    which: 'stated supply' | 'fixed supply' | 'none';
    states: StateProbabilities;
  };
  ramp: SupplyRamp;
  risks: GradientRisk[];
  walk_at: WalkPoint[];
  sentences: string[];
  sources: string[];
}

export type GradientPart = 'start' | 'elution' | 'wash' | 'after';

export interface PartSpan {
  start_min: number;
  end_min: number;
  start_organic_percent: number;
  end_organic_percent: number;
}

/** Between pump and tip; null: no volumes are given, so the table stands as at the pump and the real tip lags behind. */
export type GradientDelay = TipDelay | null;

export interface TipDelay {
  /** First moment of a step: volume over flow; the range is the flow's. */
  delay_min: number;
  delay_low_min: number;
  delay_high_min: number;
  /** Standard deviation of a step's arrival; the range is that of the smearing laws' inputs. */
  smearing_min: number;
  smearing_low_min: number;
  smearing_high_min: number;
  pieces: DelayPiece[];
}

export interface DelayPiece {
  name: string;
  kind: 'mixer' | 'tube' | 'packed bed' | 'emitter';
  volume_nL: number;
  delay_min: number;
  smearing_min: number;
  smearing_low_min: number;
  smearing_high_min: number;
  law: string;
  valid: boolean;
  note?: string;
}

export const SPRAY_STATES = [
  'no spray',
  'drips or pulsates',
  'steady cone-jet',
  'tilted',
  'several jets',
  'discharge',
  'below minimum flow',
] as const;
export type SprayState = (typeof SPRAY_STATES)[number];
/** One list over the times for each state; at each time they add up to 1. */
export type StateProbabilities = Record<SprayState, number[]>;

export interface FixedSupply {
  verdict: 'one voltage holds' | 'compromise' | 'no single voltage' | 'flow below the minimum' | 'no voltage';
  /** Null with the verdict 'no voltage': none under the ceiling is steady at any moment in any draw. */
  supply_V: number | null;
  /** Share of draws in a steady cone-jet at every moment of the elution part, flow included. */
  probability: number;
  /** The same by voltage alone: the flow is taken as sufficient. */
  voltage_probability: number;
  /** As `probability`, but once formed at the elution's start the cone need only survive (hysteresis), nothing disturbing it. */
  undisturbed_probability: number;
  /** Share of draws in a steady cone-jet at every moment of the wash, at this supply; absent without a wash. */
  wash_probability?: number;
  /** Tip voltage at start and end of the elution, median of the draws that spray [V]; null where none sprays. */
  tip_at_start_V: number | null;
  tip_at_end_V: number | null;
  /** Which draws fail where. The shares and `probability` add up to 1. */
  failures: FixedFailure[];
  sentences: string[];
}

export interface FixedFailure {
  why: 'drips or pulsates' | 'tilted, several jets or discharge' | 'below minimum flow' | 'no window at all';
  /** The third of the elution in which most of its failing moments lie. */
  where: 'start' | 'middle' | 'end' | 'throughout';
  share: number;
}

export interface SupplyRamp {
  /** Share of draws that hold over a whole step by voltage: asked (null: none), and what is kept at least. */
  target_asked: number | null;
  target_kept: number;
  margin_V: number;
  steps: RampStep[];
  /** Share of draws that hold over the whole elution with this ramp. */
  probability: number;
  sentences: string[];
}

export interface RampStep {
  time_min: number;
  until_min: number;
  supply_V: number;
  /** Median tip voltage at the step's start [V]; null where no draw sprays. */
  tip_V: number | null;
  /** Share of draws that hold over the whole step. */
  probability: number;
  /** Medians over the draws of the distance to the nearest lower and upper edge in this step, at the supply [V]. */
  to_lower_edge_V: number;
  to_upper_edge_V: number;
  raises: boolean;
  reason: string;
}

export interface GradientRisk {
  kind: 'drips or pulsates' | 'tilt or several jets' | 'discharge' | 'below minimum flow';
  /** 'warning', or for the minimum flow between 10 and 90 %: 'not decidable'. */
  verdict: 'warning' | 'not decidable';
  start_min: number;
  end_min: number;
  start_organic_percent: number;
  end_organic_percent: number;
  highest_probability: number;
  part: GradientPart;
  sentence: string;
}

export interface WalkPoint {
  organic_percent: number;
  percent_B: number;
  /** When this composition passes the tip in the run. */
  time_min: number;
  /** Isocratic wait before the walk counts; null: no volumes given. */
  wait_min: number | null;
  /** From below the least onset up to the highest tilt that the ceiling allows, at the supply [V]. */
  from_V: number;
  to_V: number;
  step_V: number;
  expected_current_nA: { low: number; middle: number; high: number };
  why: string;
}
