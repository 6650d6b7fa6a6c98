/**
 * How fast a table was sampled, by its first times: the mean of the steps near their median. Where more than a few samples share a printed time, whole
 * printed steps are counted instead, from the first change of the time to the last. Fewer than two whole steps tell no rate.
 */

export interface Sampling {
  rate_Hz: number | undefined;
  /** Step of the printed times where several samples share one [s]; else 0. */
  printed_s: number;
}

/** A step longer than this many usual ones is a gap. */
export const GAP_STEPS = 2.5;
/** Of all steps: fewer that stand still are rows written twice. */
const SHARED = 0.3;
const LEAST_STEPS = 2;

export function sampling(times: Float64Array, count: number): Sampling {
  const steps = new Float64Array(Math.max(0, count - 1));
  for (let k = 0; k < steps.length; k++) steps[k] = times[k + 1]! - times[k]!;
  const still = steps.reduce((n, step) => n + (step === 0 ? 1 : 0), 0);
  if (still > SHARED * steps.length) return shared(steps);
  const limit = GAP_STEPS * middleOf(steps);
  let sum = 0;
  let kept = 0;
  for (const step of steps) {
    if (!(step >= 0 && step <= limit)) continue;
    sum += step;
    kept++;
  }
  return { rate_Hz: sum > 0 ? kept / sum : undefined, printed_s: 0 };
}

function shared(steps: Float64Array): Sampling {
  const rising = steps.filter((step) => step > 0);
  if (rising.length === 0) return { rate_Hz: undefined, printed_s: 0 };
  const printed_s = middleOf(rising);
  let sum = 0;
  let samples = 0;
  let since = 0;
  let changes = 0;
  let whole = 0;
  for (const step of steps) {
    since++;
    if (step === 0) continue;
    const joins = step > 0 && step <= GAP_STEPS * printed_s;
    // The rows before the first change, and those before a gap, are no whole printed step.
    if (changes > 0 && joins) {
      sum += step;
      samples += since;
      whole++;
    }
    changes = joins ? changes + 1 : 0;
    since = 0;
  }
  return { rate_Hz: whole >= LEAST_STEPS ? samples / sum : undefined, printed_s };
}

function middleOf(steps: Float64Array): number {
  return steps.slice().sort()[steps.length >> 1] ?? 0;
}
