/** What the rehearsed bench is at a moment. */
import type { Pulsation } from './pulsation.ts';
import type { BenchRegime } from './regime.ts';

export interface BenchState {
  time_s: number;
  regime: BenchRegime;
  jets: number;
  /** V/V_on at the tip. */
  ratio: number;
  onset_V: number;
  tip_V: number;
  /** At the tip. */
  flow_nL_min: number;
  /** True pulsation, in bursts, pulsation and the unsteady stretch. */
  pulsation: Pulsation | undefined;
  /** Of the unsteady stretch: the jet stands at this moment. */
  jetStands: boolean;
  corona: boolean;
  /** Sparks jump now and then. */
  arcing: boolean;
  gas: boolean;
  /** Radius of the drop that hangs or grows [m]. */
  drop: number;
  /** Radius of the contact line now [m]. */
  contact: number;
  tilt_deg: number;
  /** True jet diameter [m]. */
  jet: number;
  pressure_bar: number;
  /** Mean over the tick, of all that the meter sees [A]. */
  current_A: number;
  /** Expected signal, before its scatter; 1: the best of this emitter at 300 nL/min. */
  level: number;
}

export function restingState(contact: number): BenchState {
  return {
    time_s: 0,
    regime: 'no spray',
    jets: 0,
    ratio: 0,
    onset_V: 0,
    tip_V: 0,
    flow_nL_min: 0,
    pulsation: undefined,
    jetStands: false,
    corona: false,
    arcing: false,
    gas: false,
    drop: 0,
    contact,
    tilt_deg: 0,
    jet: 0,
    pressure_bar: 0,
    current_A: 0,
    level: 0,
  };
}
