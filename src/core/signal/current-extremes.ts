/**
 * The lowest and highest values of a whole trace and how often and how long they stand, which shows clipping; and the step of a
 * coarse converter, from the first samples.
 */

/** How often the two lowest and two highest values stand: a clipped trace stands at its end. */
export interface Extremes {
  min: number;
  max: number;
  at_min: number;
  at_max: number;
  next_min: number;
  next_max: number;
  at_next_min: number;
  at_next_max: number;
  longest_at_min: number;
  longest_at_max: number;
  /** Smallest step between values, where all steps are multiples of it; 0 where none is seen. */
  step: number;
}

export interface ExtremesFinder {
  push(samples: Float64Array, count: number): void;
  end(): Extremes;
}

const STEP_SAMPLES = 20000;

export function extremesFinder(): ExtremesFinder {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  let next_min = Number.POSITIVE_INFINITY;
  let next_max = Number.NEGATIVE_INFINITY;
  let [at_min, at_max, at_next_min, at_next_max] = [0, 0, 0, 0];
  let [run_min, run_max, longest_at_min, longest_at_max] = [0, 0, 0, 0];
  const first: number[] = [];
  return {
    push(samples: Float64Array, count: number): void {
      for (let k = 0; k < count && first.length < STEP_SAMPLES; k++)
        if (!Number.isNaN(samples[k]!)) first.push(samples[k]!);
      for (let k = 0; k < count; k++) {
        const x = samples[k]!;
        if (x >= next_max) {
          if (x > max) {
            next_max = max;
            at_next_max = at_max;
            max = x;
            at_max = 1;
            run_max = 1;
            longest_at_max = 1;
          } else if (x === max) {
            at_max++;
            run_max++;
            if (run_max > longest_at_max) longest_at_max = run_max;
          } else {
            at_next_max = x === next_max ? at_next_max + 1 : 1;
            next_max = x;
            run_max = 0;
          }
        } else run_max = 0;
        if (x <= next_min) {
          if (x < min) {
            next_min = min;
            at_next_min = at_min;
            min = x;
            at_min = 1;
            run_min = 1;
            longest_at_min = 1;
          } else if (x === min) {
            at_min++;
            run_min++;
            if (run_min > longest_at_min) longest_at_min = run_min;
          } else {
            at_next_min = x === next_min ? at_next_min + 1 : 1;
            next_min = x;
            run_min = 0;
          }
        } else run_min = 0;
      }
    },
    end(): Extremes {
      return {
        min,
        max,
        at_min,
        at_max,
        next_min,
        next_max,
        at_next_min,
        at_next_max,
        longest_at_min,
        longest_at_max,
        step: stepOf(first),
      };
    },
  };
}

/** Smallest difference of neighbours of which all are multiples to a twentieth; 0 where they are not. */
function stepOf(values: readonly number[]): number {
  let step = Number.POSITIVE_INFINITY;
  const size = values.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  for (let k = 1; k < values.length; k++) {
    const d = Math.abs(values[k]! - values[k - 1]!);
    if (d > 1e-9 * size && d < step) step = d;
  }
  if (!Number.isFinite(step)) return 0;
  for (let k = 1; k < values.length; k++) {
    const parts = Math.abs(values[k]! - values[k - 1]!) / step;
    if (parts < 1000 && Math.abs(parts - Math.round(parts)) > 0.05) return 0;
  }
  return step;
}
