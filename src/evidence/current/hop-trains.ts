/**
 * A level that changes again and again: jets that come and go, or one jet that does not hold. What parts them is physics: n jets
 * share the flow and carry sqrt(n) of one, so every change is by the same square root of neighbouring whole numbers and comes back to the
 * same levels; a jet that falls into pulsation and back has no such ratio, the pulsating state is another one each time,
 * and where the meter shows it its lower level is the noisier one. Approximation: three percent on a ratio. Breaks where an unsteady
 * jet by chance repeats a square root in all its changes: then only the meniscus tells. Shares are judgement, tuned on rehearsed traces.
 */
import { median } from '../../core/numeric/robust.ts';
import type { LevelChange } from './level-changes.ts';
import { above } from './regimes.ts';

export interface HopTrain {
  from_s: number;
  to_s: number;
  changes: number;
  /** That it is jets and not one unsteady jet. */
  jets: number;
}

const LEAST_CHANGES = 4;
/** The next change belongs to the train within so many typical intervals, or this time. */
const NEXT_INTERVALS = 8;
const NEXT_S = 0.6;
const LONGEST_NEXT_S = 8;
const BEYOND_INTERVALS = 1.3;
/** Ratio of two numbers of jets, to this. */
const RATIO_TOLERANCE = 0.03;
/** The ratios of more jets are too near to 1 to be told from wander. */
const MOST_JETS = 4;
/** Plateaus of jets are flat against the step between them. */
const NOT_FLAT = 0.22;
/** A lower level that is so much noisier inside its pieces pulsates. */
const NOISIER_BELOW = 2.2;
/** Less than this is a leak, no jet [A]. */
const LEAST_A = 8e-9;
const LOW_SHARE = 0.2;
/** So many changes on both sides show other levels, by this. */
const AROUND = 4;
const APART = 0.92;
/** Regular changes are a pulsation, mains or a pump. */
const REGULAR = 0.12;
const REGULAR_LEAST = 16;

export function hopTrains(changes: readonly LevelChange[]): HopTrain[] {
  const kept = changes.filter(
    ({ before, after }) =>
      Math.min(before, after) > LOW_SHARE * Math.max(before, after) && Math.max(before, after) > LEAST_A,
  );
  const trains: HopTrain[] = [];
  let from = 0;
  for (let k = 1; k <= kept.length; k++) {
    const interval =
      k - from > 1
        ? (kept[k - 1]!.at_s - kept[from]!.at_s) / (k - from - 1)
        : LONGEST_NEXT_S / NEXT_INTERVALS;
    const reach = Math.min(LONGEST_NEXT_S, Math.max(NEXT_S, NEXT_INTERVALS * interval));
    if (k < kept.length && kept[k]!.at_s - kept[k - 1]!.at_s < reach && !elsewhere(kept, k)) continue;
    const parts = kept.slice(from, k);
    if (parts.length >= LEAST_CHANGES && !regular(parts) && !mostlyToNothing(parts, changes))
      trains.push(trainOf(parts, interval));
    from = k;
  }
  return trains;
}

/** The levels after a change have nothing in common with those before it: another regime. */
function elsewhere(changes: readonly LevelChange[], k: number): boolean {
  const levels = (some: readonly LevelChange[]) => some.flatMap((c) => [c.before, c.after]);
  const before = levels(changes.slice(Math.max(0, k - AROUND), k));
  const after = [changes[k]!.after, ...levels(changes.slice(k + 1, k + 1 + AROUND))];
  return Math.max(...before) < APART * Math.min(...after) || Math.max(...after) < APART * Math.min(...before);
}

/** Most changes in that time begin or end at nothing: trains of pulses, not levels of jets. */
function mostlyToNothing(parts: readonly LevelChange[], changes: readonly LevelChange[]): boolean {
  const [from_s, to_s] = [parts[0]!.at_s, parts.at(-1)!.at_s];
  let others = 0;
  for (const { at_s, before, after } of changes) {
    const high = Math.max(before, after);
    if (at_s >= from_s && at_s <= to_s && high > LEAST_A && Math.min(before, after) <= LOW_SHARE * high)
      others++;
  }
  return others > parts.length;
}

function trainOf(changes: readonly LevelChange[], interval: number): HopTrain {
  const beyond = BEYOND_INTERVALS * interval;
  return {
    from_s: changes[0]!.at_s - beyond,
    to_s: changes.at(-1)!.at_s + beyond,
    changes: changes.length,
    jets:
      bySquareRoots(changes) *
      (1 - noisierBelow(changes)) *
      (1 - above(median(changes.map((c) => c.wander)), NOT_FLAT, 4)),
  };
}

/** Share of changes by the ratios of one ladder of jets: n to n + 1, or a walk over three neighbouring numbers. */
function bySquareRoots(changes: readonly LevelChange[]): number {
  const ratios = changes.map((c) => Math.max(c.before, c.after) / Math.min(c.before, c.after));
  let best = 0;
  for (let n = 1; n < MOST_JETS; n++) {
    const one = [Math.sqrt((n + 1) / n)];
    const three = [...one, Math.sqrt((n + 2) / (n + 1)), Math.sqrt((n + 2) / n)];
    best = Math.max(best, fitting(ratios, one));
    if (n + 2 <= MOST_JETS) best = Math.max(best, fitting(ratios, three) - 0.15);
  }
  return above(best, 0.62, 10);
}

function fitting(ratios: readonly number[], ladder: readonly number[]): number {
  const right = ratios.filter((r) => ladder.some((root) => Math.abs(r / root - 1) < RATIO_TOLERANCE));
  return right.length / ratios.length;
}

function noisierBelow(changes: readonly LevelChange[]): number {
  const logs = changes.map((c) => {
    const [low, high] =
      c.before < c.after ? [c.scatter_before, c.scatter_after] : [c.scatter_after, c.scatter_before];
    return Math.log(Math.max(low, 1e-18) / Math.max(high, 1e-18));
  });
  return above(Math.exp(median(logs)), NOISIER_BELOW, 6);
}

function regular(changes: readonly LevelChange[]): boolean {
  if (changes.length < REGULAR_LEAST) return false;
  // From one rise to the next: up and down differ.
  const rises = changes.filter((c) => c.after > c.before);
  const intervals = rises.slice(1).map((c, k) => c.at_s - rises[k]!.at_s);
  if (intervals.length < REGULAR_LEAST / 2) return false;
  const mean = intervals.reduce((s, x) => s + x, 0) / intervals.length;
  const sd = Math.sqrt(intervals.reduce((s, x) => s + (x - mean) ** 2, 0) / intervals.length);
  return sd < REGULAR * mean;
}
