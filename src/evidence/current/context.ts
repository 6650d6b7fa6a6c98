/**
 * What lasts longer than a window says about it: drops that come every few windows are drips also in the empty ones between them; a level that
 * changes again and again is jets or one unsteady jet, or trains of pulses where it goes to nothing; a lasting sharp step by the square root of whole numbers is a further jet; trains and
 * quiet that alternate are bursts; a calm window among discharges is a pause in them; a level in step with a pump is pick-up.
 * Probabilities are moved, never created: each still adds to 1.
 */
import type { CurrentWindow } from '../../core/signal/index.ts';
import { within } from '../within-times.ts';
import { burstEdges } from './burst-trains.ts';
import type { DropTrain } from './drop-trains.ts';
import type { HopTrain } from './hop-trains.ts';
import { jetShares } from './jet-steps.ts';
import type { LevelChange } from './level-changes.ts';
import { above, likeliest, type Regime, type RegimeProbabilities } from './regimes.ts';
import type { Rhythm } from './rhythm.ts';
import { windowAt, windowEnd } from './window-ends.ts';

const BURSTS_AROUND_S = 5;
const LEAST_CHANGES = 4;
/** Half of the samples below this share of the mean, the zero a little off. */
const QUIET_SHARE = 0.5;
/** Where trains are looked for beside a window, and their share of all changes there. */
const TRAINS_AROUND_S = 0.5;
const EDGES_SHARE = 0.6;
const LEAST_OWN = 2;
const PAUSES_AROUND_S = 1;
const WANDER_AROUND_S = 1;
const LEAST_WANDERS = 6;
/** Middle change from window to window over the level: of independent levels, that of the scatter which a window alone takes for unsteady. */
const WANDERING = 0.033;
/** Pulses in a window to one of its drops, and what pulses of a spray carry on the mean [A]. */
const MANY_PULSES = 6;
const CARRIED_A = 1.5e-9;
/** Or they follow each other evenly: scatter of their intervals. */
const EVEN = 0.3;
/** A rhythm holds this share of the slow variance, and makes this of the level. */
const RHYTHM_SHARE = 0.72;
/** Chance never makes a rhythm that holds so much; it then outweighs changes of the level. */
const SURE_RHYTHM = 0.85;
const RHYTHM_DEPTH = 0.035;

export interface Longer {
  drops: readonly DropTrain[];
  hops: readonly HopTrain[];
  changes: readonly LevelChange[];
  rhythm: Rhythm | null;
  /** Middle level of the trace [A]. */
  level_A: number;
  rate_Hz: number;
}

export function withNeighbours(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  longer: Longer,
): RegimeProbabilities[] {
  const moved = alone.map((p) => ({ ...p }));
  const middles = windows.map((w) => w.start_s + w.samples / longer.rate_Hz / 2);
  slowBursts(windows, alone, moved);
  pauses(windows, alone, moved);
  // Steps are plain under a slow swing that by itself would look like wander.
  const shares = jetShares(longer.changes, longer.hops, middles);
  const steps = new Uint8Array(windows.length);
  for (const { at_s } of longer.changes) {
    const i = windowAt(windows, longer.rate_Hz, at_s);
    if (i < windows.length) steps[i] = 1;
  }
  for (const [i, share] of shares.entries()) {
    move(moved[i]!, 'steady', 'several jets', share);
    // What wanders there is the step.
    if (steps[i]) move(moved[i]!, 'unsteady jet', 'several jets', share);
  }
  wander(windows, alone, moved);
  hops(windows, middles, moved, longer);
  drips(windows, middles, moved, longer);
  trains(windows, middles, moved, longer);
  pump(middles, moved, longer);
  return moved;
}

function move(p: RegimeProbabilities, from: Regime, to: Regime, share: number): void {
  const part = p[from] * share;
  p[from] -= part;
  p[to] += part;
}

function drips(
  windows: readonly CurrentWindow[],
  middles: readonly number[],
  moved: RegimeProbabilities[],
  { drops }: Longer,
): void {
  for (const train of drops) {
    const sure = above(train.drops, 2.5, 4);
    const [first, past] = within(middles, train.from_s, train.to_s);
    for (let i = first; i < past; i++) {
      const window = windows[i]!;
      // A drop is one charge; a train of pulses at the drops' rate is a burst.
      const { pulses } = window;
      const even = (pulses?.interval_scatter ?? 1) < EVEN;
      const many = (pulses?.rate_Hz ?? 0) > MANY_PULSES * train.rate_Hz && (window.mean > CARRIED_A || even);
      if (many) continue;
      for (const from of [
        'no spray',
        'leak only',
        'pulsating',
        'intermittent bursts',
        'unsteady jet',
        'steady',
        'discharge',
        'pick-up',
      ] as const)
        move(moved[i]!, from, 'dripping', 0.97 * sure);
    }
  }
}

/** Inside a train of changes a window's own name is of one of its states only. */
function hops(
  windows: readonly CurrentWindow[],
  middles: readonly number[],
  moved: RegimeProbabilities[],
  { hops: trains }: Longer,
): void {
  for (const train of trains) {
    const [first, past] = within(middles, train.from_s, train.to_s);
    for (let i = first; i < past; i++) {
      const p = moved[i]!;
      const { bursts, q50, mean } = windows[i]!;
      // Between trains a burst carries nothing; between its visits to pulsation an unsteady jet carries most.
      const quiet = bursts !== null && q50 < QUIET_SHARE * mean;
      for (const from of [
        'steady',
        'unsteady jet',
        'several jets',
        'pulsating',
        'intermittent bursts',
      ] as const) {
        if (quiet && from === 'intermittent bursts') continue;
        const part = p[from] * 0.97;
        p[from] -= part;
        p['several jets'] += part * train.jets;
        p['unsteady jet'] += part * (1 - train.jets);
      }
    }
  }
}

/** Trains of pulses that a window alone does not part from what is between them; it holds the begin or end of two or more itself. */
function trains(
  windows: readonly CurrentWindow[],
  middles: readonly number[],
  moved: RegimeProbabilities[],
  { changes, rate_Hz }: Longer,
): void {
  const edges = burstEdges(changes);
  const times = changes.map(({ at_s }) => at_s);
  const counted = (list: readonly number[], from_s: number, to_s: number) => {
    const [first, past] = within(list, from_s, to_s);
    return past - first;
  };
  for (const [i, p] of moved.entries()) {
    const window = windows[i]!;
    if (counted(edges, window.start_s, windowEnd(window, rate_Hz)) < LEAST_OWN) continue;
    const [from_s, to_s] = [middles[i]! - TRAINS_AROUND_S, middles[i]! + TRAINS_AROUND_S];
    const count = counted(edges, from_s, to_s);
    if (count < LEAST_CHANGES || count < EDGES_SHARE * counted(times, from_s, to_s)) continue;
    const sure = above(count, LEAST_CHANGES - 1, 4);
    for (const from of ['pulsating', 'steady', 'unsteady jet', 'no spray', 'discharge'] as const)
      move(p, from, 'intermittent bursts', 0.95 * sure);
  }
}

function slowBursts(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  moved: RegimeProbabilities[],
): void {
  const busy = alone.map((p) => {
    const top = likeliest(p);
    return top === 'pulsating' || top === 'intermittent bursts' ? 1 : top === 'no spray' ? 0 : -1;
  });
  around(windows, BURSTS_AROUND_S, (i, from, to) => {
    if (busy[i] === -1) return;
    let changes = 0;
    let before = -1;
    for (let k = from; k < to; k++) {
      if (busy[k] === -1) continue;
      if (before !== -1 && busy[k] !== before) changes++;
      before = busy[k]!;
    }
    if (changes < LEAST_CHANGES) return;
    move(moved[i]!, 'no spray', 'intermittent bursts', 0.85);
    move(moved[i]!, 'pulsating', 'intermittent bursts', 0.85);
  });
}

function pauses(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  moved: RegimeProbabilities[],
): void {
  const burning = alone.map((p) => p.discharge > 0.5);
  around(windows, PAUSES_AROUND_S, (i, from, to) => {
    if (burning[i]) return;
    let others = 0;
    let sides = 0;
    for (let k = from; k < to; k++)
      if (burning[k]) {
        others++;
        sides |= k < i ? 1 : 2;
      }
    if (sides !== 3 || others < 0.4 * (to - from)) return;
    move(moved[i]!, 'steady', 'discharge', 0.8);
    move(moved[i]!, 'unsteady jet', 'discharge', 0.8);
  });
}

/** A level that goes up and down from window to window is no steady one, however calm each window is. */
function wander(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  moved: RegimeProbabilities[],
): void {
  const calm = alone.map((p) => p.steady > 0.5);
  around(windows, WANDER_AROUND_S, (i, from, to) => {
    if (!(alone[i]!.steady > 0.5)) return;
    const changes: number[] = [];
    for (let k = from + 1; k < to; k++)
      if (calm[k] && calm[k - 1]) changes.push(Math.abs(windows[k]!.q50 - windows[k - 1]!.q50));
    if (changes.length < LEAST_WANDERS) return;
    const share = changes.sort((a, b) => a - b)[changes.length >> 1]! / Math.max(windows[i]!.q50, 1e-9);
    move(moved[i]!, 'steady', 'unsteady jet', above(share, WANDERING, 4));
  });
}

/** Wander at the rhythm of something else than the spray. */
function pump(
  middles: readonly number[],
  moved: RegimeProbabilities[],
  { rhythm, level_A, hops: trains }: Longer,
): void {
  if (rhythm === null) return;
  const share =
    above(rhythm.share, RHYTHM_SHARE, 14) *
    above(rhythm.amplitude_A / Math.max(level_A, 1e-8), RHYTHM_DEPTH, 6);
  const changing = new Uint8Array(middles.length);
  if (rhythm.share < SURE_RHYTHM)
    for (const train of trains) changing.fill(1, ...within(middles, train.from_s, train.to_s));
  for (const [i, p] of moved.entries())
    if (!changing[i])
      for (const from of ['steady', 'unsteady jet', 'several jets'] as const) move(p, from, 'pick-up', share);
}

/** Calls with the range of windows that begin within `reach_s` of each. */
function around(
  windows: readonly CurrentWindow[],
  reach_s: number,
  see: (i: number, from: number, to: number) => void,
): void {
  let from = 0;
  let to = 0;
  for (const [i, window] of windows.entries()) {
    while (windows[from]!.start_s < window.start_s - reach_s) from++;
    while (to < windows.length && windows[to]!.start_s <= window.start_s + reach_s) to++;
    see(i, from, to);
  }
}
