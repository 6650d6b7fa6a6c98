import { dot, endValue, type MeniscusMesh } from './mesh.ts';
import type { Surroundings } from './surroundings.ts';

/**
 * One equilibrium is asked by what holds the contact line, what holds the liquid, and the quantity that says which
 * member of the family is wanted. Lengths in contact-line radii a, pressure in gamma / a, voltage in sqrt(gamma a / eps0).
 */
export interface EquilibriumTask {
  readonly mesh: MeniscusMesh;
  readonly around: Surroundings;
  /** `pinned`: the contact line stays at r = 1. `free`: it slides on the plate at a contact angle of 90 degrees. */
  readonly edge: 'pinned' | 'free';
  readonly hold: Hold;
  readonly control: Control;
}

/** Overpressure of the feed kept, or the volume of liquid in front of the rim's plane. */
export type Hold =
  | { readonly kind: 'pressure'; readonly pressure: number }
  | { readonly kind: 'volume'; readonly volume: number };

export type Control =
  | { readonly kind: 'height'; readonly value: number }
  /** Height over contact radius. */
  | { readonly kind: 'aspect'; readonly value: number }
  /** Natural logarithm of the apex curvature. */
  | { readonly kind: 'curvature'; readonly value: number }
  | { readonly kind: 'voltage'; readonly value: number };

/**
 * A shape: tangent angle psi at the nodes (0 at the apex, downward positive), arc length, pull U = V^2 / 2, pressure.
 * dr / ds = cos psi, dz / ds = -sin psi.
 */
export interface ShapeState {
  readonly psi: Float64Array;
  readonly arc: number;
  readonly pull: number;
  readonly pressure: number;
}

export interface Outline {
  readonly r: Float64Array;
  readonly z: Float64Array;
  readonly height: number;
  readonly edgeRadius: number;
}

export function outlineOf(mesh: MeniscusMesh, psi: Float64Array, arc: number): Outline {
  const n = mesh.nodes;
  const r = new Float64Array(n);
  const z = new Float64Array(n);
  const cos = psi.map(Math.cos);
  const sin = psi.map(Math.sin);
  const height = arc * dot(mesh.whole, sin);
  for (let i = 0; i < n; i++) {
    let sr = 0;
    let sz = 0;
    for (let k = 0; k < n; k++) {
      const w = mesh.integral[i * n + k]!;
      sr += w * cos[k]!;
      sz += w * sin[k]!;
    }
    r[i] = arc * sr;
    z[i] = height - arc * sz;
  }
  return { r, z, height, edgeRadius: arc * dot(mesh.whole, cos) };
}

/** Volume in front of z = 0: Int pi r^2 sin(psi) ds. */
export function volumeOf(mesh: MeniscusMesh, state: ShapeState): number {
  const { r } = outlineOf(mesh, state.psi, state.arc);
  let sum = 0;
  for (let i = 0; i < mesh.nodes; i++) sum += mesh.whole[i]! * r[i]! * r[i]! * Math.sin(state.psi[i]!);
  return Math.PI * state.arc * sum;
}

/** Meridional curvature at the apex, half of the apex's mean curvature sum. */
export function apexCurvature(mesh: MeniscusMesh, state: ShapeState): number {
  return dot(mesh.startSlope, state.psi) / state.arc;
}

export function voltageOf(state: ShapeState): number {
  return Math.sqrt(2 * Math.max(state.pull, 0));
}

export function edgeAngle(mesh: MeniscusMesh, state: ShapeState): number {
  return endValue(mesh, state.psi, 1);
}

/** Spherical cap of the given height on a contact circle of radius 1: the equilibrium without voltage. */
export function cap(mesh: MeniscusMesh, height: number): ShapeState {
  const angle = 2 * Math.atan(height);
  const arc = Math.abs(angle) < 1e-9 ? 1 : angle / Math.sin(angle);
  return { psi: mesh.t.map((t) => angle * t), arc, pull: 0, pressure: 2 * Math.sin(angle) };
}
