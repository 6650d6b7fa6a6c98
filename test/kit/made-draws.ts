/**
 * Window draws whose answers are known on paper: emitter i has a factor evenly spread over 1 ± spread, onset = base · factor,
 * edges at fixed ratios of it; current, minimum flow and resistance the same for every draw unless a list is given.
 */
import type { WindowDraws } from '../../src/core/window/draws.ts';

export interface MadeDraws {
  count: number;
  onset_V: number;
  spread: number;
  steady: number;
  tilt: number;
  several?: number;
  discharge_V?: number;
  current_A?: number;
  resistance_ohm?: number;
  /** One for all, or one for each draw in order of its factor. */
  minimum_flow_m3_s?: number | ((share: number) => number);
}

export function madeDraws(made: MadeDraws): WindowDraws {
  const share = Float64Array.from({ length: made.count }, (_, i) => (i + 0.5) / made.count);
  const onset = share.map((u) => made.onset_V * (1 + made.spread * (2 * u - 1)));
  const all = (value: number) => new Float64Array(made.count).fill(value);
  const least = made.minimum_flow_m3_s ?? 1e-15;
  return {
    count: made.count,
    onset_V: onset,
    steady_from_V: onset.map((v) => v * made.steady),
    steady_down_to_V: onset.map((v) => v * 0.9),
    tilt_from_V: onset.map((v) => v * made.tilt),
    several_from_V: onset.map((v) => v * (made.several ?? made.tilt * 1.1)),
    discharge_from_V: all(made.discharge_V ?? Number.POSITIVE_INFINITY),
    current_A: all(made.current_A ?? 100e-9),
    minimum_flow_m3_s: typeof least === 'number' ? all(least) : share.map(least),
    resistance_ohm: all(made.resistance_ohm ?? 0),
  };
}
