/**
 * The regime of one window as probabilities that add to 1: a tree of soft questions, asked in the order in which an answer rules out what
 * follows (pick-up, discharge, drips, bursts, pulsation, hops between levels, wander), the calm rest split by its level. Each question is a smooth
 * step around a threshold; the thresholds are judgement, tuned on made and rehearsed traces, never on
 * measurements. Signatures: docs/reading-current.md, section 5. A window knows nothing of its neighbours; context.ts adds them.
 */
import type { CurrentWindow } from '../../core/signal/index.ts';

export const REGIMES = [
  'no spray',
  'leak only',
  'dripping',
  'pulsating',
  'intermittent bursts',
  'steady',
  'unsteady jet',
  'several jets',
  'discharge',
  'pick-up',
] as const;
export type Regime = (typeof REGIMES)[number];
export type RegimeProbabilities = Record<Regime, number>;

/** A number for each regime; `at` is its place in REGIMES. */
export function byRegime(of: (name: Regime, at: number) => number): RegimeProbabilities {
  return Object.fromEntries(REGIMES.map((name, at) => [name, of(name, at)])) as RegimeProbabilities;
}

/** What the set-up says of a steady cone-jet. Until the person's own steady reading stands behind it, it names no regime by itself. */
export interface ExpectedCurrent {
  current_A: number;
  low_A: number;
  high_A: number;
  calibrated: boolean;
}

export interface RegimeContext {
  expected?: ExpectedCurrent | undefined;
  /** Half power of the meter [Hz]; null where unknown. */
  bandwidth_Hz: number | null;
  /** Of the converter; 0 where none is seen. */
  step_A: number;
}

const NA = 1e-9;
/** Less than this is no spray; a dry leak is under 5 nA (common practice, no source). */
const NO_SPRAY_A = 0.8 * NA;
const LEAK_A = 8 * NA;
/** No 10 to 30 µm emitter sprays so much below 1 µL/min (scaling law, computed). */
const DISCHARGE_A = 1500 * NA;
/** A discharge is over in microseconds, through a slow meter in milliseconds. */
const LONGEST_SPIKE_S = 0.015;
/** Wander of 1 ms means that is no steady jet any more (judgement; electronics and droplets make under 1 %). */
const UNSTEADY = 0.035;
/** Below this the noise of a meter looks like wander. */
const LEAST_JET_A = 10 * NA;
/** A jet that wanders stays above its own scatter; a level that does not is noise, hum or drift about nothing. */
const OVER_ITS_SCATTER = 1;
/** Pulses of a spray carry some current on the mean; what does not is noise about nothing, or drops. */
const LEAST_STEPS = 6;
const CARRIED_A = 1.5 * NA;
/** Pulses stand on one side of what is between them; noise about a small level does not. */
const LEAST_SKEW = 0.4;
const SQUARE_ROOTS = [Math.SQRT2, Math.sqrt(3 / 2), Math.sqrt(4 / 3), Math.sqrt(3), 2];
const STEP_TOLERANCE = 0.045;

/** Smooth step: 0 far below `at`, 1 far above, steeper with `power`. */
export function above(x: number, at: number, power: number): number {
  if (!(x > 0)) return 0;
  return 1 / (1 + (at / x) ** power);
}

export function regimeOf(window: CurrentWindow, context: RegimeContext): RegimeProbabilities {
  const level = Math.max(window.mean, 0);
  const floor = Math.max(level, 2 * NA);
  const left = byRegime(() => 0);
  let rest = 1;
  const take = (name: Regime, probability: number) => {
    left[name] += rest * probability;
    rest *= 1 - probability;
  };
  take('pick-up', pickUp(window, floor));
  take('discharge', discharge(window, context));
  const stepped = aboveSteps(window, context.step_A);
  take('dripping', stepped * dripping(window));
  take('intermittent bursts', stepped * bursts(window));
  take('pulsating', pulsating(window, context, floor, stepped));
  take('several jets', hopping(window));
  take(
    'unsteady jet',
    above(wander(window) / Math.max(level, LEAST_JET_A), UNSTEADY, 5) *
      above(level, LEAK_A, 6) *
      above(level / window.robust_sd, OVER_ITS_SCATTER, 4),
  );
  take('no spray', 1 - above(level, NO_SPRAY_A, 6));
  const spray = context.expected?.calibrated ? 0.3 * context.expected.current_A : LEAK_A;
  take('leak only', 1 - above(level, spray, 5));
  left.steady += rest;
  return left;
}

function pickUp({ mains, skew, mean, q50 }: CurrentWindow, floor: number): number {
  if (mains === null) return 0;
  // A sine lies evenly about its mean; pulses do not.
  const lopsided = above(Math.abs(mean - q50) / mains.amplitude, 0.45, 6);
  return (
    (1 - lopsided) *
    above(mains.share, 0.5, 8) *
    above(mains.amplitude / floor, 0.04, 4) *
    above(mains.amplitude, 0.8 * NA, 4) *
    (1 - above(skew, 2, 6))
  );
}

function discharge(w: CurrentWindow, { expected }: RegimeContext): number {
  const much = expected?.calibrated
    ? Math.max(above(w.mean, 3.5 * expected.current_A, 8), above(w.mean, DISCHARGE_A, 6))
    : above(w.mean, DISCHARGE_A, 6);
  return 1 - (1 - much) * (1 - spikesOnBase(w));
}

/** Irregular tall spikes on a level that stays: a meniscus that pulses falls back to nothing in between. */
function spikesOnBase(w: CurrentWindow): number {
  if (w.pulses === null || w.mean < 5 * NA) return 0;
  const irregular = w.pulses.interval_scatter === null ? 0.7 : above(w.pulses.interval_scatter, 0.4, 5);
  // What stays up for longer is a level.
  const short = 1 - above(w.pulses.duty / Math.max(w.pulses.rate_Hz, 1e-9), LONGEST_SPIKE_S, 4);
  return (
    short *
    above(w.q25 / w.mean, 0.3, 8) *
    above(w.skew, 1.5, 6) *
    above((w.max - w.q50) / Math.max(w.q50, NA), 0.4, 5) *
    irregular
  );
}

/**
 * Spikes from nothing, less than about 50 in a second; some hundreds where all of them carry next to nothing (a pulsating spray carries a good part
 * of the steady current).
 */
function dripping(w: CurrentWindow): number {
  if (w.pulses === null) return 0;
  const base = Math.abs(w.q50) / Math.max(w.mean, 0.1 * NA);
  const mostDrips = 55 + 350 * (1 - above(w.mean, 1.5 * NA, 4));
  return (
    above(w.skew, 2.8, 6) *
    (1 - above(w.pulses.rate_Hz, mostDrips, 6)) *
    (1 - above(base, 0.4, 5)) *
    (1 - above(w.pulses.duty, 0.2, 6))
  );
}

function bursts(w: CurrentWindow): number {
  if (w.bursts === null) return 0;
  // Quiet stretches of a train carry next to nothing.
  const base = Math.max(0, w.q05) / Math.max(w.mean, NA);
  const carried = above(w.mean, CARRIED_A, 4);
  return (
    (1 - (1 - carried) * (1 - evenPulses(w))) *
    above(w.bursts.contrast, 3.5, 4) *
    above(w.bursts.changes, 1.6, 4) *
    (1 - above(base, 0.4, 5)) *
    above(w.bursts.quiet, 0.1, 4)
  );
}

/** Pulses that follow each other evenly and stand clear of their noise: no chance makes them, however little they carry. */
function evenPulses({ pulses, robust_sd }: CurrentWindow): number {
  if (pulses === null || pulses.interval_scatter === null) return 0;
  return (1 - above(pulses.interval_scatter, 0.25, 6)) * above(pulses.height / robust_sd, 15, 4);
}

function pulsating(
  w: CurrentWindow,
  { bandwidth_Hz }: RegimeContext,
  floor: number,
  stepped: number,
): number {
  return 1 - (1 - line(w, bandwidth_Hz, floor)) * (1 - stepped * train(w));
}

/** A line that no mains explains; a meter that is too slow for it shrinks it by a known factor. */
function line({ comb, white_sd, mean }: CurrentWindow, bandwidth_Hz: number | null, floor: number): number {
  if (comb === null || comb.frequency_Hz < 25) return 0;
  const shrunk = bandwidth_Hz === null ? 1 : Math.sqrt(1 + (comb.frequency_Hz / bandwidth_Hz) ** 2);
  const depth = (Math.sqrt(2 * comb.power) * shrunk) / floor;
  // Hardly any current and a line among the noise: interference, not a spray.
  const carried = above(mean, CARRIED_A, 4);
  return above(comb.over_floor, 14, 3) * above(depth, 0.07, 3) * carried * (white_sd > 0 ? 1 : 0.9);
}

/** Noise of one or two converter steps looks like pulses between levels: what is counted must span more of them. */
function aboveSteps({ q99, q01, max }: CurrentWindow, step_A: number): number {
  return step_A > 0 ? above(Math.max(q99 - q01, 0.7 * (max - q01)), LEAST_STEPS * step_A, 8) : 1;
}

/** Counted pulses: regular ones of any depth, or irregular ones that fall back to next to nothing each time (an astable meniscus). */
function train(w: CurrentWindow): number {
  const { pulses } = w;
  if (pulses === null) return 0;
  const level = Math.max(w.mean, NA);
  const scatter = pulses.interval_scatter ?? 1;
  const regular = (1 - above(scatter, 0.4, 6)) * above(pulses.height / level, 0.35, 5);
  const deep =
    above(w.skew, LEAST_SKEW, 4) *
    above(pulses.height / level, 1, 7) *
    (1 - above(Math.max(0, pulses.base) / level, 0.25, 5)) *
    (1 - above(scatter, 1.6, 6));
  return (
    above(w.mean, CARRIED_A, 4) *
    above(pulses.count, 3.6, 5) *
    above(pulses.rate_Hz, 30, 6) *
    (1 - (1 - regular) * (1 - deep))
  );
}

/** A window that holds one sharp step between two flat levels wanders by the step alone: it is taken out. */
function wander({ slow_sd, levels }: CurrentWindow): number {
  if (levels === null || levels.changes !== 1 || levels.apart < 20) return slow_sd;
  const between = levels.share_high * (1 - levels.share_high) * (levels.high - levels.low) ** 2;
  return Math.sqrt(Math.max(0, slow_sd ** 2 - between));
}

/** Flat levels one above the other, with a sharp change between them. */
function hopping(w: CurrentWindow): number {
  if (w.levels === null || w.levels.low < 0.25 * w.levels.high || w.levels.low < 3 * NA) return 0;
  const ratio = w.levels.high / w.levels.low;
  return (
    above(w.levels.changes, 1.5, 6) *
    above(w.levels.apart, 9, 4) *
    above(ratio - 1, 0.07, 4) *
    (squareRootStep(ratio) ? 0.96 : 0.6)
  );
}

/** True where a ratio of two levels is that of two numbers of equal jets. */
export function squareRootStep(ratio: number, tolerance = STEP_TOLERANCE): boolean {
  return SQUARE_ROOTS.some((root) => Math.abs(ratio / root - 1) < tolerance);
}

export function likeliest(p: RegimeProbabilities): Regime {
  return REGIMES.reduce((best, name) => (p[name] > p[best] ? name : best), REGIMES[0]);
}
