/**
 * Single lasting steps by the square root of a ratio of whole numbers: a jet was born or lost, and the upper side, as far as its level holds, has
 * several. A step by the root of 3/2 or 4/3 has two or more on its lower side too, but a flow that is turned a little makes as small a step:
 * it counts only inside a train of such changes, or where the level comes straight back. Breaks where the flow was doubled or
 * halved within milliseconds: that is the same trace. Shares are judgement, tuned on rehearsed traces.
 */

import { within } from '../within-times.ts';
import type { HopTrain } from './hop-trains.ts';
import type { LevelChange } from './level-changes.ts';
import { squareRootStep } from './regimes.ts';

/** The upper plateau lasts so long, the lower at least so [s], the way between them no longer. */
const LASTING_S = 0.04;
const LEAST_S = 0.02;
const SHARP_S = 0.03;
/** A lower level that is so much noisier inside its pieces pulsates: no jet was born or lost. */
const NOISIER = 2;
/** A smaller ratio has two jets or more on its lower side: the root of 3/2, not of 2. */
const MANY_BELOW = 1.3;
/** Roots of many jets lie close together: so near to one of them. */
const SMALL_TOLERANCE = 0.03;
/** Where the lower side has several too, the level holds down to this share of it. */
const HOLDS = 0.93;
/** Back on the old level, to this. */
const BACK = 0.02;
/** No jet carries less [A]. */
const LEAST_JET_A = 8e-9;
/** Longer and flat plateaus make it sure [s]; their wander over the step. */
const SURE_S = 0.1;
const FLAT = 0.1;
const SURE = 0.97;
const LIKELY = 0.88;

/** For each window, by its middle: how much of a steady level is several jets. */
export function jetShares(
  changes: readonly LevelChange[],
  trains: readonly HopTrain[],
  middles: readonly number[],
): Float64Array {
  const times = changes.map((c) => c.at_s);
  const inside = new Int8Array(changes.length);
  for (const train of trains) {
    const kind = train.jets < 0.5 ? -1 : 1;
    const [first, past] = within(times, train.from_s, train.to_s);
    for (let k = first; k < past; k++) if (inside[k] !== -1) inside[k] = kind;
  }
  const holdsTo = nextBelow(changes.map((c) => c.after));
  const holdsFrom = nextBelow(changes.map((c) => c.before).reverse());
  // Counts of sure and likely steps that begin (+) and end (−) to hold at each window.
  const sure = new Int32Array(middles.length + 1);
  const likely = new Int32Array(middles.length + 1);
  for (const [k, step] of changes.entries()) {
    const low = Math.min(step.before, step.after);
    const ratio = Math.max(step.before, step.after) / low;
    const rises = step.after > step.before;
    if (inside[k] === -1 || low < LEAST_JET_A || !squareRootStep(ratio) || !lasts(step, rises)) continue;
    const many = ratio < MANY_BELOW;
    if (many && !(squareRootStep(ratio, SMALL_TOLERANCE) && (inside[k] === 1 || comesBack(changes, k))))
      continue;
    const ends = many ? low * HOLDS : low * (0.5 + 0.5 * ratio);
    const last = many || rises ? holdsTo(k, ends) : k;
    const first = many || !rises ? changes.length - 1 - holdsFrom(changes.length - 1 - k, ends) : k;
    const from = first < 0 ? Number.NEGATIVE_INFINITY : times[first]!;
    const to = last >= changes.length ? Number.POSITIVE_INFINITY : times[last]!;
    const flat = step.before_s >= SURE_S && step.after_s >= SURE_S && step.wander < FLAT;
    const counts = flat ? sure : likely;
    const [a, b] = within(middles, from, to);
    counts[a]!++;
    counts[b]!--;
  }
  let sures = 0;
  let likelies = 0;
  return Float64Array.from(middles, (_, i) => {
    sures += sure[i]!;
    likelies += likely[i]!;
    return sures > 0 ? SURE : likelies > 0 ? LIKELY : 0;
  });
}

function lasts(step: LevelChange, rises: boolean): boolean {
  const { before_s, after_s, scatter_before, scatter_after } = step;
  const [high_s, low_s] = rises ? [after_s, before_s] : [before_s, after_s];
  const [high, low] = rises ? [scatter_after, scatter_before] : [scatter_before, scatter_after];
  return high_s >= LASTING_S && low_s >= LEAST_S && step.between_s <= SHARP_S && low <= NOISIER * high;
}

/** One less for a moment and back, or one more. */
function comesBack(changes: readonly LevelChange[], k: number): boolean {
  const pair = (a: LevelChange | undefined, b: LevelChange | undefined) =>
    a !== undefined && b !== undefined && Math.abs(b.after / a.before - 1) < BACK && b.after > b.before;
  return pair(changes[k], changes[k + 1]) || pair(changes[k - 1], changes[k]);
}

/** Asks for the first value after a place that is below a limit (past the end where none is), from the falling records seen from there. */
function nextBelow(values: readonly number[]): (place: number, limit: number) => number {
  const next = new Int32Array(values.length);
  for (let k = values.length - 1; k >= 0; k--) {
    let at = k + 1;
    while (at < values.length && values[at]! >= values[k]!) at = next[at]!;
    next[k] = at;
  }
  return (place, limit) => {
    let at = place + 1;
    while (at < values.length && values[at]! >= limit) at = next[at]!;
    return at;
  };
}
