/**
 * The fewest voltages that hold a run of moments: greedy, each as long as the share of draws that hold stays at `least`.
 *
 * Fewest, proof: 'this stretch can be kept by one voltage' is inherited by every shorter stretch inside it (shares only
 * fall and ceilings only sink when moments are added). Take any staircase; let greedy make each step as long as it can.
 * By induction greedy's k-th step ends no earlier than the other's k-th: it starts no later than the other's end, so the
 * rest of the other's step is a stretch inside a keepable one, and greedy reaches its end as well. Hence greedy never
 * needs more steps.
 */
import {
  bestVoltage,
  emptyStretch,
  extended,
  holdingCounts,
  type Stretch,
  SUPPLY_STEP_V,
} from './holding.ts';
import type { Moment } from './moment.ts';

export interface Stair {
  from: number;
  to: number;
  supply: number;
  /** False where the ceiling of the run's start leaves less than the target. */
  keeps: boolean;
}

export interface StaircaseTask {
  moments: readonly Moment[];
  /** First and last moment to hold. */
  first: number;
  end: number;
  /** False for a moment that no voltage holds: it asks for nothing but its ceiling. */
  demands: readonly boolean[];
  /** Number of grid voltages. */
  size: number;
  /** Kept to both edges [V]. */
  margin: number;
  /** The first voltage stands from the start of the run: the start's ceilings bind it too [V]. */
  opening: number;
  /** Where a step holds no moment that asks for anything [V]. */
  fallback: number;
}

/** `least`: count of draws that must hold over each step. */
export function staircase(task: StaircaseTask, least: number): Stair[] {
  const stairs: Stair[] = [];
  let from = task.first;
  while (from <= task.end) {
    const stair = longestStair(task, from, least);
    stairs.push(stair);
    from = stair.to + 1;
  }
  return stairs;
}

function longestStair(task: StaircaseTask, from: number, least: number): Stair {
  const { moments, demands, end, size, margin, fallback } = task;
  const opening = from === task.first ? task.opening : Number.POSITIVE_INFINITY;
  let stretch: Stretch = { ...emptyStretch(moments[0]!.edges.count), ceiling: opening };
  let asked = false;
  let best: Stair | undefined;
  for (let to = from; to <= end; to++) {
    const { edges, ceiling_V } = moments[to]!;
    asked ||= demands[to]!;
    stretch = demands[to]
      ? extended(stretch, edges, ceiling_V, margin)
      : { ...stretch, ceiling: Math.min(stretch.ceiling, ceiling_V) };
    const counts = holdingCounts(stretch, size, false);
    if (asked && counts.reduce((a, b) => Math.max(a, b), 0) < least) break;
    const supply = asked ? bestVoltage(counts, least) : undefined;
    best = { from, to, supply: supply ?? roundDown(Math.min(fallback, stretch.ceiling)), keeps: true };
  }
  if (best !== undefined) return best;
  // Only the ceiling of the run's start can leave a first moment short: then the highest voltage under it.
  return { from, to: from, supply: roundDown(Math.min(opening, moments[from]!.ceiling_V)), keeps: false };
}

export function roundDown(volts: number): number {
  return Math.floor(Math.max(0, volts) / SUPPLY_STEP_V) * SUPPLY_STEP_V;
}
