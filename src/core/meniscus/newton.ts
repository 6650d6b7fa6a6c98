import { panelsOfNodes } from '../field/panels.ts';
import { factorLu, solveLu } from '../numeric/dense-lu.ts';
import { buildSystem } from './equations.ts';
import type { EquilibriumTask, ShapeState } from './equilibrium.ts';
import { outlineOf } from './equilibrium.ts';
import type { MeniscusMesh } from './mesh.ts';
import { surfaceField } from './surface-field.ts';

export type NewtonOutcome =
  | {
      readonly kind: 'converged';
      readonly state: ShapeState;
      readonly e: Float64Array;
      readonly updates: number;
    }
  | { readonly kind: 'not converged'; readonly reason: string };

/**
 * Angles in radians, lengths and pressures in their scales: all unknowns are of order one, and the voltage is then
 * right to about this share. Residuals fall by about 1e-3 an update, so that most shapes end near 1e-7.
 */
const RESIDUAL_GOAL = 1e-6;
/** An update this small leaves a residual far below the goal: no check is needed. */
const LAST_UPDATE = 1e-5;
const MOST_UPDATES = 12;
/** No node turns by more than this in one update [rad]; larger steps come from a start outside the domain. */
const LARGEST_TURN = 0.5;

/** Newton on the shape with the derivative of the field by the shape, from `start`. */
export function solveEquilibrium(task: EquilibriumTask, start: ShapeState): NewtonOutcome {
  const { mesh } = task;
  const n = mesh.nodes;
  let state = start;
  for (let updates = 0; updates <= MOST_UPDATES; updates++) {
    const outline = outlineOf(mesh, state.psi, state.arc);
    const panels = meniscusPanels(mesh, state, outline.r, outline.z);
    const field = surfaceField(panels, task.around);
    if (field === undefined) return failed('the field matrix is singular');
    const system = buildSystem(task, state, outline, field);
    const worst = system.residual.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
    if (!Number.isFinite(worst)) return failed('the shape left the numbers');
    if (worst < RESIDUAL_GOAL) return { kind: 'converged', state, e: field.e, updates };
    if (updates === MOST_UPDATES) break;
    const factors = factorLu(n + 3, system.jacobian());
    if (factors.singular) return failed('the shape equations are singular');
    const step = solveLu(factors, system.residual);
    let turn = 0;
    let size = 0;
    for (let i = 0; i < n + 3; i++) {
      const change = Math.abs(step[i]!);
      size = Math.max(size, change);
      if (i < n) turn = Math.max(turn, change);
    }
    const damping = Math.min(1, LARGEST_TURN / turn);
    const psi = new Float64Array(n);
    for (let i = 0; i < n; i++) psi[i] = state.psi[i]! - damping * step[i]!;
    state = {
      psi,
      arc: state.arc - damping * step[n]!,
      pull: state.pull - damping * step[n + 1]!,
      pressure: state.pressure - damping * step[n + 2]!,
    };
    if (!(state.arc > 0)) return failed('the arc length became negative');
    if (size < LAST_UPDATE) return { kind: 'converged', state, e: field.e, updates: updates + 1 };
  }
  return failed(`no convergence in ${MOST_UPDATES} updates`);
}

function failed(reason: string): NewtonOutcome {
  return { kind: 'not converged', reason };
}

function meniscusPanels(mesh: MeniscusMesh, state: ShapeState, r: Float64Array, z: Float64Array) {
  const dr = new Float64Array(mesh.nodes);
  const dz = new Float64Array(mesh.nodes);
  for (let i = 0; i < mesh.nodes; i++) {
    const j = Math.floor(i / mesh.order);
    const width = state.arc * (mesh.breaks[j + 1]! - mesh.breaks[j]!);
    dr[i] = Math.cos(state.psi[i]!) * width;
    dz[i] = -Math.sin(state.psi[i]!) * width;
  }
  return panelsOfNodes(mesh.order, r, z, dr, dz);
}
