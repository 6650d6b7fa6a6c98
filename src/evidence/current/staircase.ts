/**
 * The staircase of a voltage walk. Within its window one jet's current rises slowly with the voltage (5 to 20 % across it), so several jets are
 * counted against what one jet would carry at that very voltage: a robust line through the single jet's steps, drawn on, and I_n = sqrt(n) I_1 at a
 * shared flow. A raw step of the current between two voltages holds both the new jet and the rise, and is by no square root. With one step of
 * a single jet the rise is not known: the range of the ratio then allows for RISE_UNKNOWN.
 * Breaks where the flow changed with the walk, and where the walk began with several jets (then the person's own steady reading tells).
 */
import { median } from '../../core/numeric/robust.ts';
import { longestRun, type StepRun } from './longest-run.ts';
import { likeliest } from './regimes.ts';
import type { CurrentStep } from './voltage-step.ts';

export interface SingleJet {
  /** What one jet would carry there [nA]. */
  at: (voltage_V: number) => number;
  /** Share by which this may be wrong there, upwards. */
  doubt: (voltage_V: number) => number;
}

/** A calm current that jumps by more from one step to the next is another number of jets. */
const SEVERAL = 1.3;
/** Above one jet's line: half-way between one jet and two. */
const SEVERAL_OF_LINE = 1.19;
/** Part of the probability that moves when the staircase tells one and several jets apart. */
const SURE = 0.85;
/** Rise of one jet's current over its whole window where the walk does not show it (common practice, no source). */
const RISE_UNKNOWN = 0.2;
/** Half of the rise that was drawn on may be wrong, and square roots hold to this. */
const DRAWN_ON = 0.5;
const ROOT_TOLERANCE = 0.045;
const MOST_JETS = 9;

/** Calm whatever the number of jets: a rise of the voltage by itself can make the step of a second jet. */
export function calm(step: CurrentStep): boolean {
  const { steady, 'several jets': several } = step.probabilities;
  return steady + several > 0.5;
}

/** Longest run of calm steps without a jump, by rising voltage: the window of one jet. */
export function singleJetRun(steps: readonly CurrentStep[]): StepRun | undefined {
  return longestRun(steps, calm, (step, before) => step.level_nA.value < SEVERAL * before.level_nA.value);
}

function singleJet(steps: readonly CurrentStep[]): SingleJet {
  const slopes: number[] = [];
  for (const [i, a] of steps.entries())
    for (const b of steps.slice(i + 1))
      if (b.voltage_V > a.voltage_V)
        slopes.push((b.level_nA.value - a.level_nA.value) / (b.voltage_V - a.voltage_V));
  const slope = slopes.length > 0 ? Math.max(0, median(slopes)) : 0;
  const offset = median(steps.map((s) => s.level_nA.value - slope * s.voltage_V));
  const last = steps.at(-1)!;
  const at = (voltage_V: number) => offset + slope * voltage_V;
  return {
    at,
    doubt: (voltage_V) =>
      slopes.length === 0
        ? RISE_UNKNOWN
        : Math.max(0, (DRAWN_ON * slope * (voltage_V - last.voltage_V)) / at(voltage_V)),
  };
}

export interface JetCount {
  /** Current over that of one jet there, with its range. */
  ratio: { value: number; low: number; high: number };
  /** Null where no whole number fits. */
  jets: number | null;
}

export function jetCount(step: CurrentStep, one: SingleJet): JetCount {
  const single = one.at(step.voltage_V);
  const value = step.level_nA.value / single;
  const low = (step.level_nA.low / single / (1 + one.doubt(step.voltage_V))) * (1 - ROOT_TOLERANCE);
  const high = (step.level_nA.high / single) * (1 + ROOT_TOLERANCE);
  const fitting: number[] = [];
  for (let n = 2; n <= MOST_JETS; n++) if (Math.sqrt(n) >= low && Math.sqrt(n) <= high) fitting.push(n);
  const apart = (n: number) => Math.abs(value / Math.sqrt(n) - 1);
  const jets = fitting.length === 0 ? null : fitting.reduce((a, b) => (apart(b) < apart(a) ? b : a));
  return { ratio: { value, low, high }, jets };
}

/** Inside the run one jet, whatever the single windows said; calm and far above its line several. Changes the steps. */
export function tellJets(steps: readonly CurrentStep[], run: StepRun): SingleJet {
  const inside = steps.slice(run.first, run.past);
  for (const step of inside) {
    shift(step, 'several jets', 'steady');
    step.jets = 1;
  }
  const one = singleJet(inside);
  for (const step of steps.slice(run.past)) {
    const least = inside.length > 1 ? SEVERAL_OF_LINE : SEVERAL;
    if (!calm(step) || step.level_nA.value < least * one.at(step.voltage_V)) continue;
    shift(step, 'steady', 'several jets');
    step.jets = jetCount(step, one).jets;
  }
  return one;
}

function shift(step: CurrentStep, from: 'steady' | 'several jets', to: 'steady' | 'several jets'): void {
  const part = SURE * step.probabilities[from];
  step.probabilities = {
    ...step.probabilities,
    [from]: step.probabilities[from] - part,
    [to]: step.probabilities[to] + part,
  };
  step.regime = likeliest(step.probabilities);
}
