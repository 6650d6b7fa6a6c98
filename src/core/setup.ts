/**
 * The set-up document as the physics sees it: every number carries its unit in its name (it crosses files, HTTP and
 * the command line). The contract layer validates documents into this shape; the plan converts it to SI at its door.
 */
export interface Setup {
  name?: string | undefined;
  emitter: EmitterSpec;
  liquid: LiquidSpec;
  feed: FeedSpec;
  polarity: 'positive' | 'negative';
  room?: { temperature_C?: number | undefined; humidity_percent?: number | undefined } | undefined;
  inlet: InletSpec;
  voltage: VoltageSpec;
  gradient?: GradientSpec | undefined;
}

export interface EmitterSpec {
  /** Inner diameter at the tip [µm]. */
  bore_um: number;
  /** Outer diameter at the tip [µm], the rim. */
  rim_um: number;
  taper_half_angle_deg: number;
  shank_diameter_um: number;
  free_length_mm: number;
  material: string;
  /** How the bore runs behind the tip: 'widens' with the outside (pulled), 'constant' (etched or straight), or unknown. */
  inside?: 'widens' | 'constant' | 'unknown' | undefined;
  /** Where the contact line sits: 'bore' inner edge, 'rim' outer edge, 'shank' flooded. */
  wets: 'bore' | 'rim' | 'shank';
}

/** Diameter of the contact line [µm]. */
export function contactDiameter_um({ bore_um, rim_um, shank_diameter_um, wets }: EmitterSpec): number {
  return wets === 'bore' ? bore_um : wets === 'rim' ? rim_um : shank_diameter_um;
}

export const ACIDS = ['formic acid', 'acetic acid', 'trifluoroacetic acid'] as const;
export const SALTS = ['ammonium acetate', 'ammonium formate', 'ammonium bicarbonate'] as const;
export const ADDITIVES = ['none', ...ACIDS, ...SALTS] as const;
export type AdditiveName = (typeof ADDITIVES)[number];

/** Salts are given in mmol/L, acids in percent by volume. */
export function isSalt(additive: string): boolean {
  return SALTS.some((name) => name === additive);
}

export interface LiquidSpec {
  /** Percent by volume before mixing; water makes up the rest. */
  acetonitrile_percent: number;
  methanol_percent: number;
  propanol_2_percent: number;
  additive: AdditiveName;
  /** Acids: percent by volume. Present for acids only. */
  additive_percent?: number | undefined;
  /** Salts: mmol/L. Present for salts only. */
  additive_mM?: number | undefined;
  /** Without data here, for example dimethyl sulfoxide: the plan is computed without them and widened. */
  other_additives?: { name: string; percent?: number | undefined; mM?: number | undefined }[] | undefined;
  temperature_C: number;
  conductivity_S_m?: number | undefined;
  surface_tension_mN_m?: number | undefined;
}

export type FeedSpec =
  | { kind: 'pumped'; flow_nL_min: number }
  | { kind: 'static'; back_pressure_mbar: number };

export interface InletSpec {
  distance_mm: number;
  lateral_offset_mm: number;
  angle_deg: number;
  bore_mm: number;
  potential_V: number;
}

export interface LiquidColumnSegment {
  bore_um: number;
  length_mm: number;
  /** Liquid share of the cross-section: 1 for an open tube, about 0.4 to 0.8 for a packed bed. */
  open_fraction: number;
}

export interface VoltageSpec {
  /** Supply voltage against ground [V, magnitude]; absent: the plan says what the supply must give. */
  supply_V?: number | undefined;
  contact: 'tip' | 'liquid junction';
  /** The liquid between contact and tip, from the contact to the emitter; empty for contact at the tip. */
  column: LiquidColumnSegment[];
}

export interface GradientSpec {
  bottle_A_organic_percent: number;
  bottle_B_organic_percent: number;
  organic: 'acetonitrile' | 'methanol' | '2-propanol';
  table: { time_min: number; percent_B: number }[];
  /** What the liquid passes from where the pump mixes it to the tip, in order; absent: the delay is unknown. */
  volumes?: GradientVolume[] | undefined;
  /** When the analytes elute, in minutes of the run at the tip; absent: found from the table's shape. */
  elution?: { start_min: number; end_min: number } | undefined;
}

/** A piece between pump and tip: its volume, or bore and length (with the liquid's share of the cross-section). */
export interface GradientVolume {
  name: string;
  kind: 'mixer' | 'tube' | 'packed bed' | 'emitter';
  volume_nL?: number | undefined;
  bore_um?: number | undefined;
  length_mm?: number | undefined;
  /** Liquid between and inside the particles; 1 for an open tube, about 0.6 to 0.8 for a packed bed. */
  open_fraction?: number | undefined;
  /** Packed bed: particle diameter. */
  particle_um?: number | undefined;
}
