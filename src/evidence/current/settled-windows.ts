/** The windows of one step of a walk once it had settled, and the regimes they name together. */
import type { CurrentReading, RegimeWindow } from './current-reading.ts';
import { byRegime, type RegimeProbabilities } from './regimes.ts';

/** A window may reach beyond its step by so much, by rounding [s]. */
const SLACK_S = { begin: 1e-9, end: 1e-6 };

/** `settle` is the share of the step that is left out at its beginning. */
export function settledWindows(
  reading: CurrentReading,
  from_s: number,
  to_s: number,
  settle: number,
): RegimeWindow[] {
  const begin_s = from_s + settle * (to_s - from_s);
  return reading.windows.filter((w) => w.start_s >= begin_s - SLACK_S.begin && w.end_s <= to_s + SLACK_S.end);
}

export function meanProbabilities(windows: readonly RegimeWindow[]): RegimeProbabilities {
  return byRegime((name) => windows.reduce((s, w) => s + w.probabilities[name], 0) / windows.length);
}
