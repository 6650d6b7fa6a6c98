import type { EquilibriumTask, ShapeState } from './equilibrium.ts';
import type { Member } from './member.ts';
import { solveEquilibrium } from './newton.ts';
import { type Pace, type PaceKind, paceOf } from './pace.ts';

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
  /** `path`: along the family's own direction, which passes where height rises and falls again. */
  readonly followBy: PaceKind;
  /** The member without drive and its value of the control. */
  readonly start: ShapeState;
  readonly startAt: number;
  /** Shape from which the second member is sought; the first may be flat, where a drop on the plate has no field. */
  readonly firstGuess: (at: number) => ShapeState;
  /** Step of the control; for `path` the voltage of the second member. */
  readonly firstStep: number;
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
  let smallest = step * SMALLEST_SHARE;
  let reason = 'the family has too many members';
  while (members.length < MOST_MEMBERS) {
    const pace = paceOf(task, members);
    const last = pace.members.at(-1)!;
    const found = solveMember(task, pace, last.at + step);
    const tooFar = typeof found !== 'string' && members.length === 1 && found.state.pull <= 0;
    if (typeof found === 'string' || tooFar) {
      reason = typeof found === 'string' ? found : 'the drive falls from the start';
      step /= 2;
      if (step < smallest) return { kind: 'failed', members, reason };
      continue;
    }
    members.push(found);
    if (found.state.pull < last.state.pull) {
      const turn = refineTurn(task, members);
      if (turn === undefined) return { kind: 'failed', members, reason: 'no convergence at the maximum' };
      followBeyond(task, members, step);
      return { kind: 'turn', members, turn };
    }
    if (found.updates <= EASY_UPDATES) step = Math.min(step * GROWTH, task.largestStep);
    if (members.length === 2 && task.followBy === 'path') {
      const [start, second] = paceOf(task, members).members;
      step = second!.at - start!.at;
      smallest = step * SMALLEST_SHARE;
    }
  }
  return { kind: 'failed', members, reason };
}

/** Solves for one value of the control from the members nearest to it; a string says why not. */
export function solveMember(task: FamilyTask, pace: Pace, at: number): Member | string {
  const guess =
    pace.members.length === 1 ? task.firstGuess(at) : extrapolate(nearest(pace.members, at, 3), at);
  const outcome = solveEquilibrium({ ...task.base, control: pace.control(at) }, guess);
  if (outcome.kind === 'not converged') return outcome.reason;
  return { at, state: outcome.state, e: outcome.e, updates: outcome.updates };
}

function followBeyond(task: FamilyTask, members: Member[], step: number): void {
  for (let k = 0; k < task.beyondTurn; k++) {
    const pace = paceOf(task, members);
    const last = pace.members.at(-1)!;
    const found = solveMember(task, pace, last.at + step);
    if (typeof found === 'string' || found.state.pull >= last.state.pull) return;
    members.push(found);
  }
}

/** The final parabola spans this share of the members around the maximum on either side: its cubic error is then 1e-7. */
const PARABOLA_SHARE = 0.1;
const MOST_SHIFTS = 6;

/** A first place by interpolation, a parabola through three solutions close to it, and the solution at its vertex. */
function refineTurn(task: FamilyTask, members: readonly Member[]): Turn | undefined {
  if (members.length < 3) return undefined;
  const pace = paceOf(task, members);
  const known = pace.members;
  const from = known.at(-3)!.at;
  const to = known.at(-1)!.at;
  const apart = PARABOLA_SHARE * (to - from);
  const close: Member[] = [];
  const solveAt = (at: number) => solveMember(task, { ...pace, members: [...known, ...close] }, at);
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
