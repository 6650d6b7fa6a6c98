/**
 * What a person saw on an emitter: a tip voltage and the regime there, optionally with the apex height or the current.
 * The document form; every name carries its unit. Liquid, flow and distance stand only where they differ from the set-up's.
 */
import type { LiquidSpec } from '../setup.ts';

export const REGIMES_SEEN = [
  'no spray',
  'dripping',
  'pulsating',
  'onset here',
  'steady',
  'tilted',
  'several jets',
  'discharge',
] as const;
export type RegimeSeen = (typeof REGIMES_SEEN)[number];

export interface Observation {
  /** One of both: the tip's own voltage, or the supply's. */
  tip_V?: number | undefined;
  supply_V?: number | undefined;
  seen: RegimeSeen;
  /** Direction of the walk; 'down': a standing cone-jet survives below its forming edge. */
  direction?: 'up' | 'down' | undefined;
  /** Height of the meniscus above the rim without ejection. */
  apex_height_um?: number | undefined;
  /** Mean spray current of a steady cone-jet. */
  current_nA?: number | undefined;
  liquid?: LiquidSpec | undefined;
  flow_nL_min?: number | undefined;
  distance_mm?: number | undefined;
}
