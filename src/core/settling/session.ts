/**
 * A settle session: one emitter on one instrument, what may move, within which limits, and every reading so far. The advice
 * is a pure function of this document: the same document gives the same advice. Times are seconds since the session began.
 */
import type { SettleProof, SettleReason } from './story.ts';

export const AXES = ['voltage_V', 'distance_mm', 'lateral_x_mm', 'lateral_y_mm', 'angle_deg'] as const;
export type Axis = (typeof AXES)[number];
/** Where everything stands; an axis that may not move keeps the value of the start. */
export type SettlePoint = Record<Axis, number>;

export interface AxisSpec {
  low: number;
  high: number;
  /** The finest step a person sets by hand. */
  step: number;
  /** Positions are always reached from this side, so that the play of a screw does not count. Default: 'from below'. */
  approach?: 'from below' | 'from above' | undefined;
}

export const READS = ['run file', 'trace', 'typed', 'ion level'] as const;
export const MATTERS = ['level', 'scatter', 'both'] as const;

/** What is known of the onset before the first reading. */
export interface OnsetKnowledge {
  /** Onset of the set-up at several distances, ascending (from the plan); absent: the closed formula below. */
  rows?: { distance_mm: number; onset_V: number }[] | undefined;
  /** Contact radius and surface tension of the closed formula. */
  radius_um: number;
  surface_tension_mN_m: number;
  /** Standard deviation of ln(effective radius). Default 0.8: a narrow one fails silently. */
  sd_ln_radius?: number | undefined;
}

export interface SettleSession {
  name?: string | undefined;
  /** Demo data; never evidence. */
  invented?: boolean | undefined;
  seed: number;
  polarity: 'positive' | 'negative';
  start: SettlePoint;
  /** Only these move. */
  axes: Partial<Record<Axis, AxisSpec>>;
  reads: (typeof READS)[number];
  /** The ion that a run file is read for; absent: the whole level. */
  ion?: { mz: number; tolerance_ppm: number } | undefined;
  matters: (typeof MATTERS)[number];
  /** What the supply can give, and where a discharge was met or is expected; neither is ever passed. */
  supply_limit_V: number;
  discharge_limit_V?: number | undefined;
  flow_nL_min?: number | undefined;
  onset?: OnsetKnowledge | undefined;
  /** The plan's onset along the gradient, relative to its first row: fed forward. */
  onset_course?: { time_min: number; factor: number }[] | undefined;
  readings: SettleReading[];
  /** Names on the bench: the emitter (a queue's label, say) and where it sprays. */
  emitter?: string | undefined;
  instrument?: string | undefined;
  /** The cause that led here. */
  because?: SettleReason | undefined;
  /** Runs and traces read at the working point. */
  proofs?: SettleProof[] | undefined;
}

export const STATES_SEEN = [
  'no spray',
  'dripping',
  'unstable',
  'tilted',
  'several jets',
  'discharge',
] as const;
export type StateSeen = (typeof STATES_SEEN)[number];
export const EVENTS = ['bubble', 'clog', 'other'] as const;

export interface SettleReading {
  time_s: number;
  at: SettlePoint;
  /** Any positive unit, the same throughout; 0 for no signal. */
  level: number;
  /** Relative scatter of this reading. */
  scatter_percent?: number | undefined;
  /** How well the level itself is known; default: the scatter. */
  noise_percent?: number | undefined;
  /** What was seen; 'steady' is the empty list. */
  seen?: StateSeen[] | undefined;
  /** The person knows that something sudden happened: not learned from. */
  event?: (typeof EVENTS)[number] | undefined;
  current_nA?: number | undefined;
  note?: string | undefined;
}

export interface Change {
  axis: Axis;
  from: number;
  to: number;
}

export type AdviceKind = 'first reading' | 'move' | 'read again' | 'lower' | 'look' | 'done';

/** How far one may go from the recommended point before the spray leaves its window or the level falls. */
export interface Margin {
  axis: Axis;
  /** Towards smaller and larger values, in µm for positions, in V for the voltage, in degrees for the angle. */
  down: number;
  up: number;
  unit: 'V' | 'µm' | '°';
  /** What ends it on each side. */
  down_ends: MarginEnd;
  up_ends: MarginEnd;
}
export type MarginEnd = 'unsteady' | 'level down by a tenth' | 'your limit';

export interface Recommendation {
  at: SettlePoint;
  /** Expected level in the readings' unit, and the factor of one standard deviation. */
  level: number;
  level_factor: number;
  /** Chance that it is within 5 % of the best that may be reached. */
  chance_within_5_percent: number;
  chance_steady: number;
  margins: Margin[];
  /** In words: how flat the optimum is. */
  flatness: string;
}

export interface Advice {
  kind: AdviceKind;
  to: SettlePoint;
  changes: Change[];
  /** One sentence: the step. */
  sentence: string;
  reason: string;
  /** True where a person must say yes first: the field at the tip rises. */
  asks_for_yes: boolean;
  /** What is asked before a raise. */
  question?: string;
  /** What holds where the hand would be. */
  cautions: string[];
  cost_s: number;
  best?: Recommendation;
  /** Expected gain of this reading and the noise of one, both in percent of the level. */
  expected_gain_percent: number;
  noise_percent: number;
  /** What the search rests on now. */
  rests_on: 'physics with the offset prior' | 'physics without the offset prior' | 'readings alone';
  /** How each reading was taken, in the order of the log. */
  taken: ReadingTaken[];
}

/** 'event' and 'doubted' readings are not learned from; 'after a change' ones have a level of their own. */
export type ReadingTaken = 'learned' | 'event' | 'doubted' | 'after a change';

/** Seconds. A voltage step of 50 V: 10 s; a position: 60 s; reading again: 10 s (common practice, no source). */
export const COST = { voltage_step_V: 50, voltage_s: 10, position_s: 60, reading_s: 10 } as const;
export const POSITION_AXES: readonly Axis[] = ['distance_mm', 'lateral_x_mm', 'lateral_y_mm', 'angle_deg'];
export const DEFAULT_SD_LN_RADIUS = 0.8;

export function costOf(from: SettlePoint, to: SettlePoint): number {
  const volts = Math.abs(to.voltage_V - from.voltage_V);
  const voltage = Math.ceil(volts / COST.voltage_step_V) * COST.voltage_s;
  const position = POSITION_AXES.some((axis) => to[axis] !== from[axis]) ? COST.position_s : 0;
  return Math.max(COST.reading_s, voltage + position);
}
