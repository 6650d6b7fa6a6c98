import { gradedBreaks } from '../field/graded-breaks.ts';
import { nodeValues, referencePanel } from '../field/reference-panel.ts';
import {
  apexCurvature,
  type Control,
  cap,
  type EquilibriumTask,
  type Hold,
  outlineOf,
  type ShapeState,
  voltageOf,
} from './equilibrium.ts';
import { type MeniscusMesh, meniscusMesh } from './mesh.ts';
import { solveEquilibrium } from './newton.ts';
import type { CurvePoint } from './result.ts';
import type { Surroundings } from './surroundings.ts';

/**
 * The family of a held pressure far behind its greatest voltage, where the apex sharpens without limit and a cone forms
 * behind it. Height and voltage both fold there again and again; the logarithm of the apex curvature never does, so the
 * family is followed by it, on a mesh whose apex panels shrink with the apex radius. These shapes are in balance but not
 * stable: no emitter shows them, they test the solver against Taylor's cone. The mesh or Newton's method ends the walk.
 * Taylor 1964, Proc. R. Soc. A 280, 383 (from memory): half angle 49.29 degrees.
 */
export interface DeepBranchInput {
  around: Surroundings;
  hold: Hold;
  /** Height of the shape without voltage. */
  startHeight: number;
  /** Apex curvature, in 1 / contact-line radius, at which to stop. */
  sharpest: number;
}

export interface DeepBranch {
  kind: 'followed' | 'stopped';
  /** Why it stopped before the curvature asked. */
  reason: string | undefined;
  points: CurvePoint[];
  /** The last shape: at radius r[i] the tangent makes halfAngle[i] [rad] with the axis. */
  r: Float64Array;
  halfAngle: Float64Array;
  updates: number;
}

interface At {
  mesh: MeniscusMesh;
  state: ShapeState;
}

const ORDER = 6;
/** First panel at the apex in apex radii. */
const APEX_PANEL = 0.25;
const RATIO = 2.2;
const LARGEST_PANEL = 0.22;
const EDGE_PANEL = 0.03;
/** Heights are followed until the apex bulges this much, then curvature: a flat or hollow apex has no logarithm. */
const BULGED = 0.3;
const HEIGHT_STEP = 0.06;
const FIRST_STEP = 0.25; // in ln curvature
const LARGEST_STEP = 0.6;
const SMALLEST_STEP = 0.02;
const GROWTH = 1.3;
const EASY_UPDATES = 4;
const MOST_HEIGHTS = 40;

export function deepBranch(input: DeepBranchInput): DeepBranch {
  let updates = 0;
  const points: CurvePoint[] = [];
  const solve = (from: At, control: Control): At | string => {
    const task: EquilibriumTask = {
      mesh: from.mesh,
      around: input.around,
      edge: 'pinned',
      hold: input.hold,
      control,
    };
    const outcome = solveEquilibrium(task, from.state);
    if (outcome.kind === 'not converged') return outcome.reason;
    updates += outcome.updates;
    lastUpdates = outcome.updates;
    return { mesh: from.mesh, state: outcome.state };
  };
  let lastUpdates = 0;
  const end = (at: At, reason: string | undefined): DeepBranch => ({
    kind: reason === undefined ? 'followed' : 'stopped',
    reason,
    points,
    r: outlineOf(at.mesh, at.state.psi, at.state.arc).r,
    halfAngle: at.state.psi.map((psi) => Math.PI / 2 - psi),
    updates,
  });

  const first = meniscusMesh(breaksFor(1, 1), ORDER);
  let at: At = { mesh: first, state: cap(first, input.startHeight) };
  for (let k = 1; k === 1 || apexCurvature(at.mesh, at.state) < BULGED; k++) {
    if (k > MOST_HEIGHTS) return end(at, 'the apex does not bulge');
    const value = input.startHeight + k * HEIGHT_STEP;
    const from = k === 1 ? { mesh: first, state: cap(first, value) } : at;
    const found = solve(from, { kind: 'height', value });
    if (typeof found === 'string') return end(at, found);
    at = found;
    points.push(pointOf(at));
  }

  let step = FIRST_STEP;
  while (apexCurvature(at.mesh, at.state) < input.sharpest * (1 - 1e-9)) {
    const now = apexCurvature(at.mesh, at.state);
    const kappa = Math.min(now * Math.exp(step), input.sharpest);
    const found = solve(sharpened(at, now, kappa), { kind: 'curvature', value: Math.log(kappa) });
    if (typeof found === 'string') {
      step /= 2;
      if (step < SMALLEST_STEP) return end(at, found);
      continue;
    }
    at = found;
    points.push(pointOf(at));
    if (lastUpdates <= EASY_UPDATES) step = Math.min(step * GROWTH, LARGEST_STEP);
  }
  return end(at, undefined);
}

function breaksFor(kappa: number, arc: number): number[] {
  return gradedBreaks(1, {
    first: Math.min(APEX_PANEL / (kappa * arc), LARGEST_PANEL),
    last: EDGE_PANEL,
    ratio: RATIO,
    largest: LARGEST_PANEL,
  });
}

/** Below this many apex radii of arc the tip is shrunk in proportion, above it the shape is kept. */
const TIP_REACH = 3;

/** A first shape for the curvature `to`: the tip of the last shape shrunk, on a mesh graded for it. */
function sharpened(last: At, from: number, to: number): At {
  const { arc } = last.state;
  const mesh = meniscusMesh(breaksFor(to, arc), ORDER);
  const reach = Math.min(TIP_REACH / (from * arc), 0.3);
  const psi = mesh.t.map((t) => {
    const near = 1 / (1 + (t / reach) ** 2);
    return valueAt(last.mesh, last.state.psi, Math.min(t * (1 + (to / from - 1) * near), 1));
  });
  return { mesh, state: { ...last.state, psi } };
}

/** Node values at the share t of the arc. */
function valueAt(mesh: MeniscusMesh, values: Float64Array, t: number): number {
  const { order, breaks } = mesh;
  let j = 0;
  while (j < breaks.length - 2 && breaks[j + 1]! < t) j++;
  const weights = new Float64Array(order);
  nodeValues(referencePanel(order).x, (t - breaks[j]!) / (breaks[j + 1]! - breaks[j]!), weights, 0);
  return weights.reduce((sum, w, k) => sum + w * values[j * order + k]!, 0);
}

function pointOf({ mesh, state }: At): CurvePoint {
  const { height } = outlineOf(mesh, state.psi, state.arc);
  return { H: height, V: voltageOf(state), kappa: apexCurvature(mesh, state) };
}
