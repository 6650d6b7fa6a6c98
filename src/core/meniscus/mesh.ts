import { referencePanel } from '../field/reference-panel.ts';

/** Panels of a meniscus in the share t of its arc length, with the operators that integrate and differentiate by t. */
export interface MeniscusMesh {
  readonly order: number;
  readonly breaks: readonly number[];
  readonly nodes: number;
  readonly t: Float64Array;
  /** Row i: integral of node values from 0 to node i. */
  readonly integral: Float64Array;
  /** Integral of node values from 0 to 1. */
  readonly whole: Float64Array;
  /** Slope at t = 0 from the nodes of the first panel. */
  readonly startSlope: Float64Array;
}

export function meniscusMesh(breaks: readonly number[], order: number): MeniscusMesh {
  const panels = breaks.length - 1;
  const n = panels * order;
  const reference = referencePanel(order);
  const t = new Float64Array(n);
  const whole = new Float64Array(n);
  const integral = new Float64Array(n * n);
  for (let j = 0; j < panels; j++) {
    const width = breaks[j + 1]! - breaks[j]!;
    for (let k = 0; k < order; k++) {
      const i = j * order + k;
      t[i] = breaks[j]! + width * reference.x[k]!;
      for (let m = 0; m < j * order; m++) integral[i * n + m] = whole[m]!;
      for (let m = 0; m < order; m++)
        integral[i * n + j * order + m] = width * reference.integral[k * order + m]!;
    }
    for (let k = 0; k < order; k++) whole[j * order + k] = width * reference.w[k]!;
  }
  const startSlope = reference.slopeAtStart.map((v) => v / breaks[1]!);
  return { order, breaks, nodes: n, t, integral, whole, startSlope };
}

/** Derivative by t of node values, panel by panel. */
export function slopeOf(mesh: MeniscusMesh, values: Float64Array): Float64Array {
  const { order, breaks } = mesh;
  const { derivative } = referencePanel(order);
  const out = new Float64Array(mesh.nodes);
  for (let i = 0; i < mesh.nodes; i++) {
    const j = Math.floor(i / order);
    const k = i - j * order;
    let sum = 0;
    for (let m = 0; m < order; m++) sum += derivative[k * order + m]! * values[j * order + m]!;
    out[i] = sum / (breaks[j + 1]! - breaks[j]!);
  }
  return out;
}

/** Value at t = 0 or t = 1 of node values. */
export function endValue(mesh: MeniscusMesh, values: Float64Array, end: 0 | 1): number {
  const { atStart, atEnd } = referencePanel(mesh.order);
  const offset = end === 0 ? 0 : mesh.nodes - mesh.order;
  const weights = end === 0 ? atStart : atEnd;
  let sum = 0;
  for (let k = 0; k < mesh.order; k++) sum += weights[k]! * values[offset + k]!;
  return sum;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
