import type { EquilibriumTask, Outline, ShapeState } from './equilibrium.ts';
import { apexCurvature } from './equilibrium.ts';
import { dot, type MeniscusMesh, slopeOf } from './mesh.ts';
import { addProduct, type SurfaceField } from './surface-field.ts';

/**
 * The balance of pressure, pull and surface tension in integral form, one equation a node,
 *   psi(s) = Int_0^s [ P + U e^2 - sin(psi) / r ] ds,
 * then the edge, the hold and the control. Unknowns: psi, arc length, U = V^2 / 2, P.
 */
export interface System {
  readonly residual: Float64Array;
  /** (n + 3) x (n + 3), row by row; formed only when asked. */
  jacobian(): Float64Array;
}

export function buildSystem(
  task: EquilibriumTask,
  state: ShapeState,
  outline: Outline,
  field: SurfaceField,
): System {
  const { mesh, edge, hold, control } = task;
  const { psi, arc, pull, pressure } = state;
  const { r, height, edgeRadius } = outline;
  const n = mesh.nodes;
  const { e } = field;
  const sin = psi.map(Math.sin);
  const rate = new Float64Array(n);
  for (let i = 0; i < n; i++) rate[i] = pressure + pull * e[i]! * e[i]! - sin[i]! / r[i]!;
  const turned = applyIntegral(mesh, rate);
  const residual = new Float64Array(n + 3);
  for (let i = 0; i < n; i++) residual[i] = psi[i]! - arc * turned[i]!;
  residual[n] = edge === 'pinned' ? edgeRadius - 1 : arc * dot(mesh.whole, rate) - Math.PI / 2;
  let volume = 0;
  for (let i = 0; i < n; i++) volume += Math.PI * arc * mesh.whole[i]! * r[i]! * r[i]! * sin[i]!;
  residual[n + 1] = hold.kind === 'pressure' ? pressure - hold.pressure : volume - hold.volume;
  residual[n + 2] = controlGap();

  function controlGap(): number {
    if (control.kind === 'height') return height - control.value;
    if (control.kind === 'aspect') return height - control.value * edgeRadius;
    if (control.kind === 'voltage') return pull - (control.value * control.value) / 2;
    return Math.log(apexCurvature(mesh, state)) - control.value;
  }

  return { residual, jacobian };

  function jacobian(): Float64Array {
    const d = derivatives(mesh, state, outline, field, rate);
    const { dr, dHeight, dEdge, dRate } = d;
    const width = n + 3;
    const out = new Float64Array(width * width);
    const integrated = new Float64Array(n * width);
    addProduct(1, integrated, mesh.integral, dRate, n, n, width);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < width; j++) out[i * width + j] = -arc * integrated[i * width + j]!;
      out[i * width + i] = out[i * width + i]! + 1;
      out[i * width + n] = out[i * width + n]! - turned[i]!;
    }
    const rowEdge = n * width;
    const rowHold = rowEdge + width;
    const rowControl = rowHold + width;
    for (let j = 0; j < width; j++) {
      if (edge === 'pinned') out[rowEdge + j] = dEdge[j]!;
      else for (let i = 0; i < n; i++) out[rowEdge + j]! += arc * mesh.whole[i]! * dRate[i * width + j]!;
      if (hold.kind === 'volume')
        for (let i = 0; i < n; i++)
          out[rowHold + j]! += 2 * Math.PI * arc * mesh.whole[i]! * r[i]! * sin[i]! * dr[i * width + j]!;
    }
    if (edge === 'free') out[rowEdge + n]! += dot(mesh.whole, rate);
    if (hold.kind === 'pressure') out[rowHold + n + 2] = 1;
    else {
      for (let i = 0; i < n; i++)
        out[rowHold + i]! += Math.PI * arc * mesh.whole[i]! * r[i]! * r[i]! * Math.cos(psi[i]!);
      out[rowHold + n]! += volume / arc;
    }
    for (let j = 0; j < width; j++) {
      if (control.kind === 'height') out[rowControl + j] = dHeight[j]!;
      else if (control.kind === 'aspect') out[rowControl + j] = dHeight[j]! - control.value * dEdge[j]!;
    }
    if (control.kind === 'voltage') out[rowControl + n + 1] = 1;
    if (control.kind === 'curvature') {
      const slope = dot(mesh.startSlope, psi);
      for (let k = 0; k < mesh.order; k++) out[rowControl + k] = mesh.startSlope[k]! / slope;
      out[rowControl + n] = -1 / arc;
    }
    return out;
  }
}

function applyIntegral(mesh: MeniscusMesh, values: Float64Array): Float64Array {
  const n = mesh.nodes;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += mesh.integral[i * n + k]! * values[k]!;
    out[i] = sum;
  }
  return out;
}

/**
 * Derivatives by the n + 3 unknowns, row per node. The field at a node that moves by dn along the normal and dt along
 * the tangent changes by  de = F[e dn] - (psi' + sin psi / r) e dn + (de / ds) dt,  F the field of a surface potential.
 */
function derivatives(
  mesh: MeniscusMesh,
  state: ShapeState,
  outline: Outline,
  field: SurfaceField,
  rate: Float64Array,
) {
  const { psi, arc, pull } = state;
  const { r, z, height, edgeRadius } = outline;
  const { e } = field;
  const n = mesh.nodes;
  const width = n + 3;
  const dHeight = new Float64Array(width);
  const dEdge = new Float64Array(width);
  for (let k = 0; k < n; k++) {
    dHeight[k] = arc * mesh.whole[k]! * Math.cos(psi[k]!);
    dEdge[k] = -arc * mesh.whole[k]! * Math.sin(psi[k]!);
  }
  dHeight[n] = height / arc;
  dEdge[n] = edgeRadius / arc;
  const dr = new Float64Array(n * width);
  const moved = new Float64Array(n * width);
  const along = new Float64Array(n * width);
  for (let i = 0; i < n; i++) {
    const [s, c] = [Math.sin(psi[i]!), Math.cos(psi[i]!)];
    for (let k = 0; k <= n; k++) {
      const w = k < n ? arc * mesh.integral[i * n + k]! : 0;
      const byR = k < n ? -w * Math.sin(psi[k]!) : r[i]! / arc;
      const byZ = dHeight[k]! + (k < n ? -w * Math.cos(psi[k]!) : (z[i]! - height) / arc);
      dr[i * width + k] = byR;
      moved[i * width + k] = e[i]! * (byR * s + byZ * c);
      along[i * width + k] = byR * c - byZ * s;
    }
  }
  const de = new Float64Array(n * width);
  addProduct(1, de, field.fieldOfPotential(), moved, n, n, width);
  const slope = slopeOf(mesh, e);
  const dRate = new Float64Array(n * width);
  for (let i = 0; i < n; i++) {
    // psi' by the balance itself: it is the slope of psi where the equations hold, and smoother than a difference.
    const curvature = rate[i]! + Math.sin(psi[i]!) / r[i]!;
    const row = i * width;
    for (let k = 0; k <= n; k++) {
      const byField = de[row + k]! - curvature * moved[row + k]! + (slope[i]! / arc) * along[row + k]!;
      dRate[row + k] = 2 * pull * e[i]! * byField + (Math.sin(psi[i]!) / (r[i]! * r[i]!)) * dr[row + k]!;
    }
    dRate[row + i] = dRate[row + i]! - Math.cos(psi[i]!) / r[i]!;
    dRate[row + n + 1] = e[i]! * e[i]!;
    dRate[row + n + 2] = 1;
  }
  return { dr, dHeight, dEdge, dRate };
}
