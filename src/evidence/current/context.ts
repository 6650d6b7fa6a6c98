/**
 * What neighbours say about a window: spikes that come every few windows are drips also in the empty windows between them; trains and
 * quiet that alternate from window to window are bursts; levels that alternate by a square root of whole numbers are jets that come and go,
 * a lasting sharp step by such a root is a second (third) jet; a calm window among discharges is a pause in them. Probabilities are moved, never created: each still adds to 1.
 */
import type { CurrentWindow } from '../../core/signal/index.ts';
import { above, likeliest, type Regime, type RegimeProbabilities, squareRootStep } from './regimes.ts';
import type { LevelStep } from './steps.ts';

/** Drips are looked for so far on both sides [s]: longer than the interval of usual drips, short against a change of regime. */
const DRIPS_AROUND_S = 6;
const LEAST_DRIPS = 3;
const BURSTS_AROUND_S = 5;
const LEAST_CHANGES = 4;
const HOPS_AROUND_S = 1.5;
const LEAST_HOPS = 3;
const PAUSES_AROUND_S = 1;
const WANDER_AROUND_S = 1;
const LEAST_WANDERS = 6;
/** Middle change from window to window over the level. */
const WANDERING = 0.02;

export function withNeighbours(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  steps: readonly LevelStep[],
): RegimeProbabilities[] {
  const moved = alone.map((p) => ({ ...p }));
  drips(windows, alone, moved);
  slowBursts(windows, alone, moved);
  hops(windows, alone, moved);
  pauses(windows, alone, moved);
  wander(windows, alone, moved);
  jets(windows, moved, steps);
  return moved;
}

function move(p: RegimeProbabilities, from: Regime, to: Regime, share: number): void {
  const part = p[from] * share;
  p[from] -= part;
  p[to] += part;
}

function drips(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  moved: RegimeProbabilities[],
): void {
  const spiky = alone.map((p) => p.dripping > 0.5);
  around(windows, DRIPS_AROUND_S, (i, from, to) => {
    if (alone[i]!['no spray'] < 0.4 && alone[i]!['leak only'] < 0.4) return;
    let spikes = 0;
    let sides = 0;
    for (let k = from; k < to; k++) {
      if (!spiky[k]) continue;
      spikes += windows[k]!.pulses?.count ?? 1;
      sides |= k < i ? 1 : 2;
    }
    if (spikes < LEAST_DRIPS || sides !== 3) return;
    move(moved[i]!, 'no spray', 'dripping', 0.9);
    move(moved[i]!, 'leak only', 'dripping', 0.9);
  });
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

function hops(
  windows: readonly CurrentWindow[],
  alone: readonly RegimeProbabilities[],
  moved: RegimeProbabilities[],
): void {
  const calm = alone.map((p) => p.steady + p['several jets'] > 0.5);
  const hop = windows.map((w, i) => {
    if (i === 0 || !calm[i] || !calm[i - 1]) return 0;
    const within = w.levels && w.levels.changes > 0 ? w.levels.high / w.levels.low : 1;
    const across = w.q50 / windows[i - 1]!.q50;
    return squareRootStep(within) || squareRootStep(Math.max(across, 1 / across)) ? 1 : 0;
  });
  around(windows, HOPS_AROUND_S, (i, from, to) => {
    if (!calm[i]) return;
    let changes = 0;
    for (let k = from; k < to; k++) changes += hop[k]!;
    if (changes < LEAST_HOPS) return;
    move(moved[i]!, 'steady', 'several jets', 0.85);
    move(moved[i]!, 'unsteady jet', 'several jets', 0.85);
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
    for (let k = from; k < to; k++) if (burning[k]) others++;
    if (others < 0.4 * (to - from)) return;
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
  const calm = alone.map((p) => p.steady > 0.5 || p['unsteady jet'] > 0.5);
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

/** After a sharp step up by a square root, until it steps down again: several jets, as far as the step is sure. */
function jets(
  windows: readonly CurrentWindow[],
  moved: RegimeProbabilities[],
  steps: readonly LevelStep[],
): void {
  for (const [k, step] of steps.entries()) {
    const ratio = step.after_A / step.before_A;
    if (ratio < 1 || !step.sharp || !squareRootStep(ratio)) continue;
    const back = steps.slice(k + 1).find((next) => next.after_A < 0.5 * (step.before_A + step.after_A));
    for (const [i, window] of windows.entries()) {
      if (window.start_s < step.at_s || (back && window.start_s >= back.at_s)) continue;
      move(moved[i]!, 'steady', 'several jets', step.voltage_moved ? 0.6 : 0.85);
    }
  }
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
