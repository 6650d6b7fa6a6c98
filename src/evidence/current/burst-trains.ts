/**
 * Trains of pulses with nothing between them, told on the slow copy where a window alone is too short or its pulses are beyond the meter: the level
 * goes up from nothing and back again and again, and inside the upper stretches the samples scatter as pulses do, in the quiet ones as the meter alone does.
 * A contact that fails makes the same level changes about a calm jet: its upper stretches are quiet. Breaks where the meter smooths the pulses away:
 * then nothing tells a train from a jet that comes for a moment. Thresholds are judgement.
 */
import type { LevelChange } from './level-changes.ts';

/** Nothing, as a share of the level beside it; and the least level that is a spray [A]. */
const NOTHING = 0.2;
const LEAST_A = 3e-9;
/** Pulses: scatter over the quiet scatter, and over their own level. */
const OVER_QUIET = 4;
const OVER_LEVEL = 0.15;

/** Times of the changes between nothing and a train of pulses, in order. */
export function burstEdges(changes: readonly LevelChange[]): number[] {
  return changes.filter(isBurstEdge).map(({ at_s }) => at_s);
}

function isBurstEdge({ before, after, scatter_before, scatter_after }: LevelChange): boolean {
  const [low, high] = before < after ? [before, after] : [after, before];
  const [quiet, busy] = before < after ? [scatter_before, scatter_after] : [scatter_after, scatter_before];
  return high > LEAST_A && low < NOTHING * high && busy > OVER_QUIET * quiet && busy > OVER_LEVEL * high;
}
