/**
 * The window's edges seen from the supply, for each draw at one moment: supply = tip + I(tip) R + inlet side, with the
 * ohmic law of core/feed. The tip rises with the supply, so a state of the spray is an interval of supply voltages.
 * The onset needs no drop (no current flows before it). Between onset and the steady edge the spray pulsates, also where
 * the column's drop would pull a cone-jet back under its edge.
 */
import { loadCurrent, supplyFor, tipVoltage } from '../feed/index.ts';
import type { WindowDraws } from '../window/draws.ts';
import { SPRAY_STATES, type SprayState } from './gradient-plan.ts';

export interface SupplyEdges {
  count: number;
  onset: Float64Array;
  steady: Float64Array;
  /** Down to here a standing cone-jet survives. */
  down: Float64Array;
  tilt: Float64Array;
  several: Float64Array;
  discharge: Float64Array;
  /** The steady cone-jet's upper end: the lesser of tilt, several jets and discharge. */
  top: Float64Array;
  /** Ohmic drop at 1.2 times onset [V]. */
  drop: Float64Array;
  /** 1 where the flow is at least the minimum. */
  flows: Uint8Array;
  inletSide: number;
  draws: WindowDraws;
}

/** Voltage over onset at which the draws state their current. */
export const REFERENCE_RATIO = 1.2;

export function supplyEdges(draws: WindowDraws, inletSide: number, flow: number): SupplyEdges {
  const at = (tips: Float64Array) =>
    tips.map((tip, i) => {
      if (!Number.isFinite(tip)) return Number.POSITIVE_INFINITY;
      return supplyFor(loadOf(draws, i), tip, draws.resistance_ohm[i]!) + inletSide;
    });
  const onset = draws.onset_V.map((tip) => tip + inletSide);
  const steady = at(draws.steady_from_V).map((v, i) => Math.max(v, onset[i]!));
  const tilt = at(draws.tilt_from_V);
  const several = at(draws.several_from_V);
  const discharge = at(draws.discharge_from_V);
  return {
    count: draws.count,
    onset,
    steady,
    down: at(draws.steady_down_to_V),
    tilt,
    several,
    discharge,
    top: tilt.map((v, i) => Math.min(v, several[i]!, discharge[i]!)),
    drop: draws.onset_V.map((onset, i) => {
      const load = loadOf(draws, i);
      return loadCurrent(load, REFERENCE_RATIO * onset) * draws.resistance_ohm[i]!;
    }),
    flows: Uint8Array.from(draws.minimum_flow_m3_s, (least) => (least <= flow ? 1 : 0)),
    inletSide,
    draws,
  };
}

/** The state of draw i at a supply: discharge hides everything, then too little flow, then the voltage decides. */
export function stateAt(edges: SupplyEdges, i: number, supply: number): SprayState {
  if (supply >= edges.discharge[i]!) return 'discharge';
  if (supply < edges.onset[i]!) return 'no spray';
  if (edges.flows[i] === 0) return 'below minimum flow';
  if (supply < edges.steady[i]!) return 'drips or pulsates';
  if (supply < Math.min(edges.tilt[i]!, edges.several[i]!)) return 'steady cone-jet';
  return supply < edges.several[i]! ? 'tilted' : 'several jets';
}

/** Shares of the draws in each state at a supply; they add up to 1. */
export function stateShares(edges: SupplyEdges, supply: number): Record<SprayState, number> {
  const shares = Object.fromEntries(SPRAY_STATES.map((state) => [state, 0])) as Record<SprayState, number>;
  for (let i = 0; i < edges.count; i++) shares[stateAt(edges, i, supply)] += 1 / edges.count;
  return shares;
}

/** Tip voltages of the draws that spray at a supply [V]. */
export function sprayingTips(edges: SupplyEdges, supply: number): number[] {
  const tips: number[] = [];
  for (let i = 0; i < edges.count; i++) {
    const tip = tipVoltage(loadOf(edges.draws, i), supply - edges.inletSide, edges.draws.resistance_ohm[i]!);
    if (tip !== undefined) tips.push(tip);
  }
  return tips;
}

function loadOf(draws: WindowDraws, i: number) {
  return { onset: draws.onset_V[i]!, current: draws.current_A[i]! };
}
