import { ellipticE, ellipticK } from '../numeric/elliptic.ts';
import type { Panels } from './panels.ts';
import { crowdedTo, type PointTable, referencePanel } from './reference-panel.ts';

/**
 * Potential of a charge layer on a body of revolution (eps0 = 1), node values to node values:
 * phi(x) = (1 / pi) Int sigma(y) r' K(m) / D ds',  D^2 = (r + r')^2 + (z - z')^2,  1 - m = rho^2 / D^2.
 * A plane at z = `plane` held at zero is an image of opposite sign.
 */
export interface LayerMatrices {
  /** `single[i * sources + j]`: potential at target node i for unit charge density at source node j. */
  readonly single: Float64Array;
  /** Derivative of the same along the outward normal of the target (principal value on the layer itself). */
  readonly normal: Float64Array | undefined;
}

/** A target closer to the middle of a panel than this many panel lengths gets a crowded rule instead of the plain one. */
const NEAR = 1.2;
/** Where the foot of the target on the chord lies this close to an end, the points crowd to the end. */
const END_SHARE = 0.02;

/** `target` and `source` being the same object means that the layer acts on itself. */
export function layerMatrices(
  target: Panels,
  source: Panels,
  plane: number | undefined,
  withNormal: boolean,
): LayerMatrices {
  const rows = target.r.length;
  const columns = source.r.length;
  const single = new Float64Array(rows * columns);
  const normal = withNormal ? new Float64Array(rows * columns) : undefined;
  const task: Task = { source, columns, single, normal };
  for (let i = 0; i < rows; i++) {
    const ownPanel = target === source ? Math.floor(i / source.order) : -1;
    const r = target.r[i]!;
    const z = target.z[i]!;
    const nr = target.normalR[i]!;
    const nz = target.normalZ[i]!;
    addTarget(task, { row: i, r, z, nr, nz, sign: 1 }, ownPanel);
    if (plane !== undefined) addTarget(task, { row: i, r, z: 2 * plane - z, nr, nz: -nz, sign: -1 }, -1);
  }
  return { single, normal };
}

interface Task {
  source: Panels;
  columns: number;
  single: Float64Array;
  normal: Float64Array | undefined;
}

/** One target, or its mirror point with sign -1. */
interface Target {
  row: number;
  r: number;
  z: number;
  nr: number;
  nz: number;
  sign: number;
}

function addTarget(task: Task, target: Target, ownPanel: number): void {
  const { source } = task;
  const { own } = referencePanel(source.order);
  for (let j = 0; j < source.count; j++) {
    if (j === ownPanel) {
      addByTable(task, target, j, own[target.row - j * source.order]!);
      continue;
    }
    const dr = target.r - source.centreR[j]!;
    const dz = target.z - source.centreZ[j]!;
    const reach = NEAR * source.length[j]!;
    if (dr * dr + dz * dz < reach * reach) addByTable(task, target, j, nearTable(source, j, target));
    else addPlain(task, target, j);
  }
}

function nearTable(source: Panels, j: number, target: Target): PointTable {
  const reference = referencePanel(source.order);
  const { order } = source;
  let [r0, r1, z0, z1] = [0, 0, 0, 0];
  for (let k = 0; k < order; k++) {
    const i = j * order + k;
    r0 += reference.atStart[k]! * source.r[i]!;
    r1 += reference.atEnd[k]! * source.r[i]!;
    z0 += reference.atStart[k]! * source.z[i]!;
    z1 += reference.atEnd[k]! * source.z[i]!;
  }
  const [cr, cz] = [r1 - r0, z1 - z0];
  const foot = ((target.r - r0) * cr + (target.z - z0) * cz) / (cr * cr + cz * cz);
  if (!(foot > END_SHARE)) return reference.nearStart;
  if (!(foot < 1 - END_SHARE)) return reference.nearEnd;
  return crowdedTo(order, foot);
}

function addPlain(task: Task, target: Target, j: number): void {
  const { source, single, normal } = task;
  const { order } = source;
  const { w } = referencePanel(order);
  const { r, z, nr, nz } = target;
  const base = target.row * task.columns;
  const scale = target.sign / Math.PI;
  for (let k = 0; k < order; k++) {
    const i = j * order + k;
    const rs = source.r[i]!;
    const dz = z - source.z[i]!;
    const dr = r - rs;
    const sum = r + rs;
    const dd = sum * sum + dz * dz;
    const rho2 = dr * dr + dz * dz;
    const m1 = rho2 / dd;
    const factor = (scale * rs * source.speed[i]! * w[k]!) / Math.sqrt(dd);
    const kk = ellipticK(m1);
    single[base + i] = single[base + i]! + factor * kk;
    if (normal !== undefined) {
      const e = ellipticE(m1) / rho2;
      const slope = (nr * ((rs * rs - r * r + dz * dz) * e - kk)) / (2 * r) - nz * dz * e;
      normal[base + i] = normal[base + i]! + factor * slope;
    }
  }
}

function addByTable(task: Task, target: Target, j: number, table: PointTable): void {
  const { source, single, normal } = task;
  const { order } = source;
  const { values, w } = table;
  const { r, z, nr, nz } = target;
  const first = j * order;
  const base = target.row * task.columns + first;
  const scale = target.sign / Math.PI;
  for (let q = 0; q < w.length; q++) {
    let [rs, zs, speed] = [0, 0, 0];
    for (let k = 0; k < order; k++) {
      const v = values[q * order + k]!;
      rs += v * source.r[first + k]!;
      zs += v * source.z[first + k]!;
      speed += v * source.speed[first + k]!;
    }
    const dz = z - zs;
    const dr = r - rs;
    const sum = r + rs;
    const dd = sum * sum + dz * dz;
    const rho2 = dr * dr + dz * dz;
    if (rho2 === 0) continue;
    const m1 = rho2 / dd;
    const factor = (scale * rs * speed * w[q]!) / Math.sqrt(dd);
    const kk = ellipticK(m1);
    for (let k = 0; k < order; k++)
      single[base + k] = single[base + k]! + factor * kk * values[q * order + k]!;
    if (normal === undefined) continue;
    const e = ellipticE(m1) / rho2;
    const slope = factor * ((nr * ((rs * rs - r * r + dz * dz) * e - kk)) / (2 * r) - nz * dz * e);
    for (let k = 0; k < order; k++) normal[base + k] = normal[base + k]! + slope * values[q * order + k]!;
  }
}
