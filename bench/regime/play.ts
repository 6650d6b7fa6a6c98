/** What one part of a tuning trace sends, tick by tick, and the bench it is drawn on. */
import type { RandomStream } from '../../src/core/random.ts';
import type { Drive } from '../../src/rehearsal/bench/current-maker.ts';
import type { BenchTruth } from '../../src/rehearsal/bench/truth.ts';
import type { Feature } from './proof-trace.ts';

/** What one part sends in each tick; `level_A` its mean. */
export interface Play {
  feature: Feature;
  level_A: number;
  /** Another regime before this [s]: not counted. */
  skip_s?: number;
  /** Another regime from here on [s]: not counted. */
  until_s?: number;
  next(dt: number): Partial<Drive>;
}

export interface Scene {
  truth: BenchTruth;
  single_A: number;
  flow: number;
  rate_Hz: number;
  length_s: number;
  random: RandomStream;
  between(low: number, high: number): number;
}
