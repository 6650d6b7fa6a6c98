import { referencePanel } from './reference-panel.ts';

/**
 * The meridian of a body of revolution, cut into panels that share no nodes. All lengths are in one unit chosen by the
 * caller. A profile runs from the apex on the axis outward and back, so that the outward normal lies to its left:
 * (-dz, dr) / |(dr, dz)|.
 */
export interface Panels {
  readonly order: number;
  /** Number of panels; there are `count * order` nodes, panel by panel. */
  readonly count: number;
  readonly r: Float64Array;
  readonly z: Float64Array;
  /** Length of the meridian per unit of the panel parameter. */
  readonly speed: Float64Array;
  readonly normalR: Float64Array;
  readonly normalZ: Float64Array;
  readonly centreR: Float64Array;
  readonly centreZ: Float64Array;
  readonly length: Float64Array;
}

/** A point of the meridian and its derivative by the parameter. */
export interface MeridianPoint {
  r: number;
  z: number;
  dr: number;
  dz: number;
}

/** Panels on a smooth curve, one between each two neighbouring parameter values of `breaks`. */
export function panelsOnCurve(
  breaks: readonly number[],
  order: number,
  curve: (t: number) => MeridianPoint,
): Panels {
  const count = breaks.length - 1;
  const { x } = referencePanel(order);
  const r = new Float64Array(count * order);
  const z = new Float64Array(count * order);
  const dr = new Float64Array(count * order);
  const dz = new Float64Array(count * order);
  for (let j = 0; j < count; j++) {
    const start = breaks[j]!;
    const width = breaks[j + 1]! - start;
    for (let k = 0; k < order; k++) {
      const point = curve(start + width * x[k]!);
      const i = j * order + k;
      r[i] = point.r;
      z[i] = point.z;
      dr[i] = point.dr * width;
      dz[i] = point.dz * width;
    }
  }
  return panelsOfNodes(order, r, z, dr, dz);
}

/** Panels on straight pieces; `breaks` are distances from the start of each piece. */
export function panelsOnLine(
  from: readonly [number, number],
  to: readonly [number, number],
  breaks: readonly number[],
  order: number,
): Panels {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const dr = (to[0] - from[0]) / length;
  const dz = (to[1] - from[1]) / length;
  return panelsOnCurve(breaks, order, (s) => ({ r: from[0] + s * dr, z: from[1] + s * dz, dr, dz }));
}

/** Panels from node coordinates and their derivatives by the panel parameter. */
export function panelsOfNodes(
  order: number,
  r: Float64Array,
  z: Float64Array,
  dr: Float64Array,
  dz: Float64Array,
): Panels {
  const nodes = r.length;
  const count = nodes / order;
  const { atStart, atEnd, w } = referencePanel(order);
  const speed = new Float64Array(nodes);
  const normalR = new Float64Array(nodes);
  const normalZ = new Float64Array(nodes);
  for (let i = 0; i < nodes; i++) {
    const s = Math.hypot(dr[i]!, dz[i]!);
    speed[i] = s;
    normalR[i] = -dz[i]! / s;
    normalZ[i] = dr[i]! / s;
  }
  const centreR = new Float64Array(count);
  const centreZ = new Float64Array(count);
  const length = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    let [r0, r1, z0, z1, s] = [0, 0, 0, 0, 0];
    for (let k = 0; k < order; k++) {
      const i = j * order + k;
      r0 += atStart[k]! * r[i]!;
      r1 += atEnd[k]! * r[i]!;
      z0 += atStart[k]! * z[i]!;
      z1 += atEnd[k]! * z[i]!;
      s += w[k]! * speed[i]!;
    }
    centreR[j] = (r0 + r1) / 2;
    centreZ[j] = (z0 + z1) / 2;
    length[j] = s;
  }
  return { order, count, r, z, speed, normalR, normalZ, centreR, centreZ, length };
}

/** One set of panels after another; all of one order. */
export function joinPanels(parts: readonly Panels[]): Panels {
  const join = (pick: (p: Panels) => Float64Array): Float64Array =>
    Float64Array.from(parts.flatMap((p) => [...pick(p)]));
  return {
    order: parts[0]!.order,
    count: parts.reduce((sum, p) => sum + p.count, 0),
    r: join((p) => p.r),
    z: join((p) => p.z),
    speed: join((p) => p.speed),
    normalR: join((p) => p.normalR),
    normalZ: join((p) => p.normalZ),
    centreR: join((p) => p.centreR),
    centreZ: join((p) => p.centreZ),
    length: join((p) => p.length),
  };
}
