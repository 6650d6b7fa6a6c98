import { gaussLegendre } from '../numeric/gauss-legendre.ts';

/** Points on the unit panel, their weights, and the value of every node polynomial there (row per point). */
export interface PointTable {
  readonly t: Float64Array;
  readonly w: Float64Array;
  /** `values[q * order + k]`: node polynomial k at point q. */
  readonly values: Float64Array;
}

/**
 * Everything about one panel on 0 < t < 1 with `order` Gauss nodes: quantities are polynomials of degree order - 1
 * through the nodes, with no node at an end (so none on the axis or an edge).
 */
export interface ReferencePanel {
  readonly order: number;
  readonly x: Float64Array;
  readonly w: Float64Array;
  /** Derivative of node polynomial k at node i: `derivative[i * order + k]`. */
  readonly derivative: Float64Array;
  /** Integral of node polynomial k from 0 to node i: `integral[i * order + k]`. */
  readonly integral: Float64Array;
  /** Value of the node polynomials at the ends t = 0 and t = 1, and their slope at t = 0. */
  readonly atStart: Float64Array;
  readonly atEnd: Float64Array;
  readonly slopeAtStart: Float64Array;
  /** For a target at node i of the panel itself: points crowding to it from both sides. */
  readonly own: readonly PointTable[];
  readonly nearStart: PointTable;
  readonly nearEnd: PointTable;
}

/** Points on each side of a singular target; 12 with the cube law leaves about 1e-7 (10: 1e-6, 16: 4e-8). */
const POINTS_PER_SIDE = 12;

const known = new Map<number, ReferencePanel>();

export function referencePanel(order: number): ReferencePanel {
  const before = known.get(order);
  if (before !== undefined) return before;
  const { x, w } = gaussLegendre(order);
  const derivative = new Float64Array(order * order);
  const integral = new Float64Array(order * order);
  const values = new Float64Array(order);
  for (let i = 0; i < order; i++) {
    nodeSlopes(x, x[i]!, derivative, i * order);
    for (let q = 0; q < order; q++) {
      nodeValues(x, x[i]! * x[q]!, values, 0);
      for (let k = 0; k < order; k++)
        integral[i * order + k] = integral[i * order + k]! + x[i]! * w[q]! * values[k]!;
    }
  }
  const atStart = new Float64Array(order);
  const atEnd = new Float64Array(order);
  const slopeAtStart = new Float64Array(order);
  nodeValues(x, 0, atStart, 0);
  nodeValues(x, 1, atEnd, 0);
  nodeSlopes(x, 0, slopeAtStart, 0);
  const panel: ReferencePanel = {
    order,
    x,
    w,
    derivative,
    integral,
    atStart,
    atEnd,
    slopeAtStart,
    own: Array.from(x, (target) => crowdedTo(order, target)),
    nearStart: crowdedTo(order, 0),
    nearEnd: crowdedTo(order, 1),
  };
  known.set(order, panel);
  return panel;
}

/** Points crowding with the cube of a Gauss rule to `target` in [0, 1]; all on one side where it is an end. */
export function crowdedTo(order: number, target: number): PointTable {
  const { x } = gaussLegendre(order);
  const oneSided = target <= 0 || target >= 1;
  const rule = gaussLegendre(oneSided ? 2 * POINTS_PER_SIDE : POINTS_PER_SIDE);
  const count = 2 * POINTS_PER_SIDE;
  const t = new Float64Array(count);
  const w = new Float64Array(count);
  let q = 0;
  for (const reach of [-target, 1 - target]) {
    if (reach === 0) continue;
    for (let i = 0; i < rule.x.length; i++) {
      const u = rule.x[i]!;
      t[q] = target + reach * u * u * u;
      w[q] = Math.abs(reach) * 3 * u * u * rule.w[i]!;
      q++;
    }
  }
  const values = new Float64Array(count * order);
  for (let k = 0; k < count; k++) nodeValues(x, t[k]!, values, k * order);
  return { t, w, values };
}

/** Values at `t` of the polynomials that are 1 at one node and 0 at the others. */
export function nodeValues(x: Float64Array, t: number, out: Float64Array, offset: number): void {
  for (let k = 0; k < x.length; k++) {
    let product = 1;
    for (let j = 0; j < x.length; j++) if (j !== k) product *= (t - x[j]!) / (x[k]! - x[j]!);
    out[offset + k] = product;
  }
}

function nodeSlopes(x: Float64Array, t: number, out: Float64Array, offset: number): void {
  for (let k = 0; k < x.length; k++) {
    let sum = 0;
    for (let m = 0; m < x.length; m++) {
      if (m === k) continue;
      let product = 1 / (x[k]! - x[m]!);
      for (let j = 0; j < x.length; j++) if (j !== k && j !== m) product *= (t - x[j]!) / (x[k]! - x[j]!);
      sum += product;
    }
    out[offset + k] = sum;
  }
}
