/**
 * The window's draws along a gradient: computed on a grid of compositions and interpolated between for each draw, voltages
 * linearly, current, minimum flow and resistance on their logarithm (they are near exponential in composition).
 * Draw i stays the same imagined emitter throughout. Breaks where a property bends within one grid step.
 */
import type { WindowDraws } from '../window/draws.ts';

/** Step of the composition grid [% organic]; its points are multiples of the step, so that they can be kept for other runs. */
export const COMPOSITION_STEP_PERCENT = 2.5;

export function drawsAlong(
  conditionsAt: (organic_percent: number) => WindowDraws,
  step_percent: number = COMPOSITION_STEP_PERCENT,
): (organic_percent: number) => WindowDraws {
  const kept = new Map<number, WindowDraws>();
  const node = (organic: number): WindowDraws => {
    const known = kept.get(organic);
    if (known !== undefined) return known;
    const made = conditionsAt(organic);
    kept.set(organic, made);
    return made;
  };
  return (organic) => {
    // A run that smears a table of whole per cents misses them by rounding: those are on the grid.
    const x = Math.min(100, Math.max(0, organic));
    const k = Math.floor(x / step_percent + TINY_PERCENT);
    const low = Math.min(100, k * step_percent);
    const high = Math.min(100, low + step_percent);
    if (high === low || x - low < TINY_PERCENT) return node(low);
    return between(node(low), node(high), Math.min(1, (x - low) / (high - low)));
  };
}
const TINY_PERCENT = 1e-9;

function between(a: WindowDraws, b: WindowDraws, share: number): WindowDraws {
  const linear = (p: Float64Array, q: Float64Array) => p.map((v, i) => v + (q[i]! - v) * share);
  const logarithmic = (p: Float64Array, q: Float64Array) =>
    p.map((v, i) => {
      const w = q[i]!;
      return v > 0 && w > 0 ? v * (w / v) ** share : v + (w - v) * share;
    });
  // No discharge at one end says nothing of where it appears between: the reached limit counts from there on.
  const open = (p: Float64Array, q: Float64Array) =>
    p.map((v, i) => {
      const w = q[i]!;
      if (!Number.isFinite(v)) return w;
      return Number.isFinite(w) ? v + (w - v) * share : v;
    });
  return {
    count: a.count,
    onset_V: linear(a.onset_V, b.onset_V),
    steady_from_V: linear(a.steady_from_V, b.steady_from_V),
    steady_down_to_V: linear(a.steady_down_to_V, b.steady_down_to_V),
    tilt_from_V: linear(a.tilt_from_V, b.tilt_from_V),
    several_from_V: linear(a.several_from_V, b.several_from_V),
    discharge_from_V: open(a.discharge_from_V, b.discharge_from_V),
    current_A: logarithmic(a.current_A, b.current_A),
    minimum_flow_m3_s: logarithmic(a.minimum_flow_m3_s, b.minimum_flow_m3_s),
    resistance_ohm: logarithmic(a.resistance_ohm, b.resistance_ohm),
  };
}
