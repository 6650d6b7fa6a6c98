/**
 * Which supply voltages hold a stretch of the run. A draw holds at a voltage when it is steady at every moment of the
 * stretch: its interval is [highest steady edge, lowest upper edge), empty where these cross; with enough flow throughout.
 * Strict on purpose: the whole time the voltage must be able to form the cone anew (steady going up), not merely to keep
 * it, so that a bubble or a stopped flow does not end the run. Counts run over a grid of voltages a person would set.
 */
import type { SupplyEdges } from './supply-edges.ts';

/** Voltages are advised in whole tens [V]. */
export const SUPPLY_STEP_V = 10;
/** The advised voltage is the middle of all that reach this share of the best count: a count of draws is ragged at its top. */
const NEARLY_BEST = 0.98;

export interface Stretch {
  /** Highest lower edge and lowest upper edge of each draw, at the supply [V]. */
  low: Float64Array;
  high: Float64Array;
  /** 1 where the draw's flow suffices throughout. */
  flows: Uint8Array;
  /** Lowest ceiling of the stretch [V]. */
  ceiling: number;
}

export function emptyStretch(count: number): Stretch {
  return {
    low: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
    high: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
    flows: new Uint8Array(count).fill(1),
    ceiling: Number.POSITIVE_INFINITY,
  };
}

/** The stretch with one more moment; `margin` [V] is kept to both edges. */
export function extended(stretch: Stretch, edges: SupplyEdges, ceiling: number, margin = 0): Stretch {
  return {
    low: stretch.low.map((v, i) => Math.max(v, edges.steady[i]! + margin)),
    high: stretch.high.map((v, i) => Math.min(v, edges.top[i]! - margin)),
    flows: stretch.flows.map((v, i) => v & edges.flows[i]!),
    ceiling: Math.min(stretch.ceiling, ceiling),
  };
}

export function stretchOf(
  moments: readonly { edges: SupplyEdges; ceiling_V: number }[],
  count: number,
  margin = 0,
): Stretch {
  return moments.reduce((s, m) => extended(s, m.edges, m.ceiling_V, margin), emptyStretch(count));
}

export function holds(stretch: Stretch, i: number, supply: number): boolean {
  return stretch.low[i]! <= supply && supply < stretch.high[i]!;
}

/** Share of draws that hold at a supply; `needFlow` false takes the flow as sufficient. */
export function holdingShare(stretch: Stretch, supply: number, needFlow: boolean): number {
  let found = 0;
  for (let i = 0; i < stretch.low.length; i++)
    if (holds(stretch, i, supply) && (!needFlow || stretch.flows[i] === 1)) found++;
  return found / stretch.low.length;
}

/** Number of grid voltages up to `highest`, from 0 on. */
export function gridSize(highest: number): number {
  return Math.max(1, Math.floor(highest / SUPPLY_STEP_V + 1e-9) + 1);
}

/** Draws that hold at each grid voltage 0, 10, 20 … V. Voltages above the stretch's ceiling count 0. */
export function holdingCounts(stretch: Stretch, size: number, needFlow: boolean): Int32Array {
  const change = new Int32Array(size + 1);
  for (let i = 0; i < stretch.low.length; i++) {
    if (needFlow && stretch.flows[i] === 0) continue;
    const from = Math.max(0, Math.ceil(stretch.low[i]! / SUPPLY_STEP_V));
    const before = Math.min(size, Math.ceil(stretch.high[i]! / SUPPLY_STEP_V));
    if (from >= before) continue;
    change[from]! += 1;
    change[before]! -= 1;
  }
  const counts = new Int32Array(size);
  let running = 0;
  for (let k = 0; k < size; k++) {
    running += change[k]!;
    counts[k] = k * SUPPLY_STEP_V <= stretch.ceiling ? running : 0;
  }
  return counts;
}

/** Middle of the range of grid voltages around the best score that nearly reach it, and `floor`; undefined where every score is 0. */
export function bestVoltage(scores: ArrayLike<number>, floor = 0): number | undefined {
  let top = 0;
  for (let k = 1; k < scores.length; k++) if (scores[k]! > scores[top]!) top = k;
  const least = Math.max(scores[top]! * NEARLY_BEST, Math.min(floor, scores[top]!));
  if (!(least > 0)) return undefined;
  let from = top;
  let to = top;
  while (from > 0 && scores[from - 1]! >= least) from--;
  while (to + 1 < scores.length && scores[to + 1]! >= least) to++;
  return Math.floor((from + to) / 2) * SUPPLY_STEP_V;
}
