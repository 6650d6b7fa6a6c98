import { apexCurvature, type EquilibriumTask, type ShapeState } from './equilibrium.ts';
import type { Member } from './member.ts';
import { solveEquilibrium } from './newton.ts';

/** A family of equilibria through its first maximum of the drive. */
export type Family =
  | { readonly kind: 'turn'; readonly members: readonly Member[]; readonly turn: Turn }
  | { readonly kind: 'failed'; readonly members: readonly Member[]; readonly reason: string };

export interface Turn {
  /** Value of the control at the maximum. */
  readonly at: number;
  /** Greatest U = V^2 / 2, by interpolation between the members next to it. */
  readonly pull: number;
  readonly member: Member;
}

export interface FamilyTask {
  readonly base: Omit<EquilibriumTask, 'control'>;
  readonly followBy: 'height' | 'aspect';
  /** The member without drive and its value of the control. */
  readonly start: ShapeState;
  readonly startAt: number;
  /** Shape from which the second member is sought; the first may be flat, where a drop on the plate has no field. */
  readonly firstGuess: (at: number) => ShapeState;
  /** Step of the control; negative where the family starts towards smaller values. */
  readonly firstStep: number;
  /** Size of the largest step. */
  readonly largestStep: number;
  /** Further members to follow behind the maximum; the family may end earlier without being a failure. */
  readonly beyondTurn: number;
}

/** Steps that need no more than this many updates are lengthened. */
const EASY_UPDATES = 3;
const GROWTH = 1.5;
/** A step cut below this share of the first one means that the family cannot be followed. */
const SMALLEST_SHARE = 1 / 128;
const MOST_MEMBERS = 200;

export function followFamily(task: FamilyTask): Family {
  const members: Member[] = [{ at: task.startAt, state: task.start, e: new Float64Array(0), updates: 0 }];
  let step = task.firstStep;
  const smallest = Math.abs(step) * SMALLEST_SHARE;
  let reason = 'the family has too many members';
  while (members.length < MOST_MEMBERS) {
    const last = members.at(-1)!;
    const found = solveMember(task, members, last.at + step);
    const apart = typeof found !== 'string' && members.length === 1 && !growsFromStart(task, members, found);
    if (typeof found === 'string' || apart) {
      reason = typeof found === 'string' ? found : SINKS;
      step /= 2;
      if (Math.abs(step) < smallest) return { kind: 'failed', members, reason };
      continue;
    }
    members.push(found);
    if (found.state.pull < last.state.pull) {
      const turn = refineTurn(task, members);
      if (turn === undefined) return { kind: 'failed', members, reason: 'no convergence at the maximum' };
      followBeyond(task, members, step);
      return { kind: 'turn', members, turn };
    }
    if (found.updates <= EASY_UPDATES)
      step = Math.sign(step) * Math.min(Math.abs(step) * GROWTH, task.largestStep);
  }
  return { kind: 'failed', members, reason };
}

/**
 * A small held volume on a sharp edge sinks at the apex as the drive rises. Taller shapes then exist too, but apart
 * from the family that starts without drive, and their greatest drive is no onset; the family itself runs the other way.
 */
const SINKS =
  'the apex does not rise from the shape without voltage (a held volume too small for its edge): not followed';

/** On the family itself the drive grows from zero with the control: this early it must be small against the first step. */
const EARLY_SHARE = 1 / 64;
const EARLY_PULL = 0.5;

function growsFromStart(task: FamilyTask, members: readonly Member[], found: Member): boolean {
  if (found.state.pull <= 0) return false;
  const early = solveMember(task, members, task.startAt + EARLY_SHARE * (found.at - task.startAt));
  return (
    typeof early !== 'string' && early.state.pull > 0 && early.state.pull < EARLY_PULL * found.state.pull
  );
}

/** Apex curvature times the length of the first panel: above it the shape is an accident of the mesh. */
const SHARPEST_APEX = 1.5;

/** Solves for one value of the control from the members nearest to it; a string says why not. */
export function solveMember(task: FamilyTask, members: readonly Member[], at: number): Member | string {
  const guess = members.length === 1 ? task.firstGuess(at) : extrapolate(nearest(members, at, 3), at);
  const outcome = solveEquilibrium({ ...task.base, control: { kind: task.followBy, value: at } }, guess);
  if (outcome.kind === 'not converged') return outcome.reason;
  const { state, e, updates } = outcome;
  const panel = task.base.mesh.breaks[1]! * state.arc;
  if (apexCurvature(task.base.mesh, state) * panel > SHARPEST_APEX)
    return 'the apex is too sharp for the mesh';
  return { at, state, e, updates };
}

function followBeyond(task: FamilyTask, members: Member[], step: number): void {
  for (let k = 0; k < task.beyondTurn; k++) {
    const last = members.at(-1)!;
    const found = solveMember(task, members.slice(-3), last.at + step);
    if (typeof found === 'string' || found.state.pull >= last.state.pull) return;
    members.push(found);
  }
}

/** The final parabola spans this share of the members around the maximum on either side: its cubic error is then 1e-7. */
const PARABOLA_SHARE = 0.1;
const MOST_SHIFTS = 6;
/** Members whose polynomial gives the first place: a cubic. */
const IN_VIEW = 4;

/** A first place by interpolation, a parabola through three solutions close to it, and the solution at its vertex. */
function refineTurn(task: FamilyTask, members: readonly Member[]): Turn | undefined {
  if (members.length < 3) return undefined;
  const known = members.slice(-IN_VIEW);
  const from = Math.min(known.at(-3)!.at, known.at(-1)!.at);
  const to = Math.max(known.at(-3)!.at, known.at(-1)!.at);
  const apart = PARABOLA_SHARE * (to - from);
  const close: Member[] = [];
  const solveAt = (at: number) => solveMember(task, [...known, ...close], at);
  let middle = Math.min(Math.max(maximum(known, from, to).at, from + apart), to - apart);
  for (let shift = 0; shift < MOST_SHIFTS; shift++) {
    for (const at of [middle, middle - apart, middle + apart]) {
      if (close.some((m) => Math.abs(m.at - at) < apart / 2)) continue;
      const member = solveAt(at);
      if (typeof member === 'string') return undefined;
      close.push(member);
    }
    const three = nearest(close, middle, 3);
    const best = close.reduce((a, b) => (b.state.pull > a.state.pull ? b : a));
    if (best.at <= middle - apart / 2) middle -= apart;
    else if (best.at >= middle + apart / 2) middle += apart;
    else {
      const place = maximum(three, middle - apart, middle + apart);
      const member = solveAt(place.at);
      return typeof member === 'string' ? undefined : { ...place, member };
    }
  }
  return undefined;
}

function nearest(members: readonly Member[], at: number, count: number): Member[] {
  return [...members].sort((a, b) => Math.abs(a.at - at) - Math.abs(b.at - at)).slice(0, count);
}

/** Golden section on the polynomial through all `points`, between `from` and `to`. */
function maximum(points: readonly Member[], from: number, to: number): { at: number; pull: number } {
  const pullAt = (at: number): number => {
    const weights = lagrange(points, at);
    return points.reduce((sum, m, k) => sum + weights[k]! * m.state.pull, 0);
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  for (let k = 0; k < 40; k++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (pullAt(left) < pullAt(right)) low = left;
    else high = right;
  }
  const at = (low + high) / 2;
  return { at, pull: pullAt(at) };
}

function lagrange(points: readonly Member[], at: number): number[] {
  return points.map((m) =>
    points.reduce(
      (product, other) => (other === m ? product : (product * (at - other.at)) / (m.at - other.at)),
      1,
    ),
  );
}

/** Polynomial through the members given, entry by entry. */
function extrapolate(used: readonly Member[], at: number): ShapeState {
  const weights = lagrange(used, at);
  const mix = (pick: (s: ShapeState) => number): number =>
    used.reduce((sum, m, k) => sum + weights[k]! * pick(m.state), 0);
  return {
    psi: used[0]!.state.psi.map((_, i) => mix((s) => s.psi[i]!)),
    arc: mix((s) => s.arc),
    pull: mix((s) => s.pull),
    pressure: mix((s) => s.pressure),
  };
}
