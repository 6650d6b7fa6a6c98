/**
 * Steps of the level between plateaus, and their shape on the slow copy: a jet is born within milliseconds, a leak creeps, a discharge
 * comes with noise. A plateau is a run of windows whose medians agree to FLAT and their own wander; a step counts when two
 * plateaus follow each other within MOST_BETWEEN windows and differ by more than STEP. Its time is where the slow copy crosses
 * half the step; finer than the slow copy (1 ms at best) it is not told. A slow drift makes no plateaus and no steps, and
 * what pulsates in between is a change of regime, no step.
 */
import type { CurrentWindow, SlowCopy } from '../../core/signal/index.ts';
import { firstPast } from '../within-times.ts';

export interface LevelStep {
  at_s: number;
  before_A: number;
  after_A: number;
  /** From a fifth to four fifths of the step. */
  rise_s: number;
  sharp: boolean;
  /** Wander after the step over wander before it. */
  noisier: number;
  /** The voltage channel moved by more than 2 % there. */
  voltage_moved: boolean;
}

const STEP = 0.07;
const FLAT = 0.025;
const WANDERS = 2.5;
const LEAST_WINDOWS = 3;
const MOST_BETWEEN = 40;
/** A creeping change takes longer than so many slow samples, and than this time. */
const SHARP_SAMPLES = 4;
const SHARP_S = 0.02;
const LEAST_A = 2e-9;
const VOLTAGE_MOVED = 0.02;
const MOST_STEPS = 500;

/** Does the level step inside this time? */
export function stepsIn(steps: readonly LevelStep[], from_s: number, to_s: number): boolean {
  return steps.some(({ at_s, rise_s }) => at_s < to_s && at_s + rise_s > from_s);
}

interface Plateau {
  first: number;
  past: number;
  level: number;
  sd: number;
}

export function levelSteps(
  windows: readonly CurrentWindow[],
  slow: SlowCopy,
  calm: readonly boolean[],
): LevelStep[] {
  const plateaus = plateausOf(windows, calm);
  const steps: LevelStep[] = [];
  for (let k = 1; k < plateaus.length && steps.length < MOST_STEPS; k++) {
    const a = plateaus[k - 1]!;
    const b = plateaus[k]!;
    if (b.first - a.past > MOST_BETWEEN || Math.abs(b.level - a.level) < STEP * Math.min(a.level, b.level))
      continue;
    if (calm.slice(a.past, b.first).includes(false)) continue;
    const before = windows[a.past - 1]!;
    const after = windows[b.first]!;
    const found = located(slow, before, after, a.level, b.level);
    if (!found) continue;
    const moved =
      before.voltage !== null && after.voltage !== null ? Math.abs(after.voltage - before.voltage) : 0;
    steps.push({
      ...found,
      before_A: a.level,
      after_A: b.level,
      noisier: (b.sd + 1e-15) / (a.sd + 1e-15),
      voltage_moved: moved > VOLTAGE_MOVED * Math.abs(before.voltage ?? 0),
    });
  }
  return steps;
}

function plateausOf(windows: readonly CurrentWindow[], calm: readonly boolean[]): Plateau[] {
  const least = windows.length < 4 * LEAST_WINDOWS ? 1 : LEAST_WINDOWS;
  const plateaus: Plateau[] = [];
  let first = 0;
  while (first < windows.length) {
    const level = windows[first]!.q50;
    let past = first;
    let sum = 0;
    let sd = 0;
    while (past < windows.length) {
      const w = windows[past]!;
      const middle = past === first ? level : sum / (past - first);
      if (
        !calm[past] ||
        w.q50 < LEAST_A ||
        Math.abs(w.q50 - middle) > FLAT * middle + WANDERS * Math.min(w.slow_sd, 0.05 * middle)
      )
        break;
      sum += w.q50;
      sd += w.sd;
      past++;
    }
    if (past - first >= least)
      plateaus.push({ first, past, level: sum / (past - first), sd: sd / (past - first) });
    first = Math.max(past, first + 1);
  }
  return plateaus;
}

function located(
  slow: SlowCopy,
  before: CurrentWindow,
  after: CurrentWindow,
  low: number,
  high: number,
): Pick<LevelStep, 'at_s' | 'rise_s' | 'sharp'> | undefined {
  const span = after.start_s - before.start_s;
  const from = firstPast(slow.start_s, (time) => time >= before.start_s);
  const to = firstPast(slow.start_s, (time) => time >= after.start_s + span);
  const share = (k: number) => (slow.mean[k]! - low) / (high - low);
  let half = -1;
  for (let k = from; k < to; k++)
    if (share(k) > 0.5 && (k + 1 >= to || share(k + 1) > 0.5)) {
      half = k;
      break;
    }
  if (half < 0) return undefined;
  let first = half;
  let last = half;
  while (first > from && share(first - 1) > 0.2) first--;
  while (last < to - 1 && share(last) < 0.8) last++;
  const rise_s = (last - first + 1) / slow.rate_Hz;
  return {
    at_s: slow.start_s[half]!,
    rise_s,
    sharp: rise_s <= Math.max(SHARP_S, SHARP_SAMPLES / slow.rate_Hz),
  };
}
