/**
 * The voltages of a staircase chosen together: a draw is one emitter, so what counts is how many draws hold through all steps, not
 * how many hold each. Where little is known of the emitter, the best voltage of one step serves other emitters than the best of the
 * next, and a staircase of such voltages serves none. Each step keeps at least `least` draws by itself; within that its voltage is
 * moved, one step after the other, to where most of the draws that hold all other steps hold it too, until none moves. Begun from
 * the staircase and from one voltage throughout; the better end is taken. No proof that no better one exists: the sum rises at every move.
 */
import { bestVoltage, holdingCounts, holds, type Stretch, SUPPLY_STEP_V, stretchOf } from './holding.ts';
import type { Stair, StaircaseTask } from './staircase.ts';

const MOST_ROUNDS = 12;

interface Step {
  stretch: Stretch;
  /** Grid voltages that keep the step by itself. */
  allowed: Uint8Array;
}

/** `least`: count of draws that must hold over each step; a step that the staircase could not keep so well keeps what it had. */
export function together(task: StaircaseTask, stairs: readonly Stair[], least: number): Stair[] {
  const steps = stairs.map((stair) => stepOf(task, stair, least));
  const own = stairs.map(({ supply }) => supply);
  const single = own.map((supply, k) =>
    steps[k]!.allowed[gridAt(task.fallback)] === 1 ? task.fallback : supply,
  );
  const [a, b] = [risen(steps, own, task.size), risen(steps, single, task.size)];
  const { supplies } = b.held > a.held ? b : a;
  return stairs.map((stair, k) => ({ ...stair, supply: supplies[k]! }));
}

function gridAt(supply: number): number {
  return Math.round(supply / SUPPLY_STEP_V);
}

function stepOf(task: StaircaseTask, { from, to, supply }: Stair, least: number): Step {
  const { moments, demands, size, margin, first, opening } = task;
  const count = moments[0]!.edges.count;
  const span = moments.slice(from, to + 1);
  const asked = stretchOf(
    span.filter((_, k) => demands[from + k]),
    count,
    margin,
  );
  const ceiling = Math.min(
    ...span.map((m) => m.ceiling_V),
    from === first ? opening : Number.POSITIVE_INFINITY,
  );
  const counts = holdingCounts({ ...asked, ceiling }, size, false);
  const floor = Math.min(least, counts[gridAt(supply)] ?? 0);
  const allowed = Uint8Array.from(counts, (held, k) => Number(held >= floor && k * SUPPLY_STEP_V <= ceiling));
  return { stretch: { ...stretchOf(span, count), ceiling }, allowed };
}

function risen(
  steps: readonly Step[],
  start: readonly number[],
  size: number,
): { supplies: number[]; held: number } {
  const supplies = [...start];
  let held = sum(alive(steps, supplies));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const before = held;
    for (const [k, { stretch, allowed }] of steps.entries()) {
      const others = alive(steps, supplies, k);
      const flows = stretch.flows.map((flow, i) => flow & others[i]!);
      const scores = holdingCounts({ ...stretch, flows }, size, true).map((n, v) => n * allowed[v]!);
      const supply = bestVoltage(scores);
      const reached = supply === undefined ? 0 : scores[gridAt(supply)]!;
      if (supply === undefined || reached <= held) continue;
      supplies[k] = supply;
      held = reached;
    }
    if (held === before) break;
  }
  return { supplies, held };
}

/** 1 for each draw that holds every step, all but the one left out. */
function alive(steps: readonly Step[], supplies: readonly number[], leftOut?: number): Uint8Array {
  const all = new Uint8Array(steps[0]!.stretch.low.length).fill(1);
  for (const [k, { stretch }] of steps.entries())
    if (k !== leftOut)
      for (let i = 0; i < all.length; i++) all[i]! &= holds(stretch, i, supplies[k]!) ? stretch.flows[i]! : 0;
  return all;
}

function sum(values: Uint8Array): number {
  return values.reduce((a, b) => a + b, 0);
}
