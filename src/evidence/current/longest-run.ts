/** The longest stretch of neighbouring steps of a walk that belong together; the first of equals. */
import type { CurrentStep } from './voltage-step.ts';

export interface StepRun {
  first: number;
  /** One past the last. */
  past: number;
}

/** `joins`: whether a step that belongs goes on with the run of the one before it. */
export function longestRun(
  steps: readonly CurrentStep[],
  belongs: (step: CurrentStep) => boolean,
  joins: (step: CurrentStep, before: CurrentStep) => boolean = () => true,
): StepRun | undefined {
  let best: StepRun | undefined;
  for (let i = 0; i < steps.length; i++) {
    if (!belongs(steps[i]!)) continue;
    const first = i;
    while (i + 1 < steps.length && belongs(steps[i + 1]!) && joins(steps[i + 1]!, steps[i]!)) i++;
    if (!best || i + 1 - first > best.past - best.first) best = { first, past: i + 1 };
  }
  return best;
}
