/**
 * What one window of a current trace holds: level, scatter, distribution, lines of its spectrum, pulses, bursts, levels it hops
 * between. All in the units of the samples; nothing here names a regime.
 */
import type { Quantiles } from './current-quantiles.ts';

export interface SpectralLine {
  frequency_Hz: number;
  /** Power of the line [units²], and over the floor around it. */
  power: number;
  over_floor: number;
}

export interface Comb {
  /** Fundamental of the strongest family of lines. */
  frequency_Hz: number;
  /** Power of fundamental and harmonics [units²]. */
  power: number;
  /** Of the window's variance. */
  share: number;
  over_floor: number;
  /** Width of the fundamental at a fifth of its height, over its frequency. */
  width: number;
  harmonics: number;
}

export interface Pulses {
  count: number;
  rate_Hz: number;
  /** Scatter of the intervals over their mean (robust); null below 3 intervals. */
  interval_scatter: number | null;
  /** Typical height above the baseline, and the baseline. */
  height: number;
  base: number;
  /** Share of time above a third of the height. */
  duty: number;
  /** Area above the baseline over the number of pulses [units s]. */
  area: number;
}

export interface Bursts {
  /** Share of the window that is quiet. */
  quiet: number;
  /** Changes between quiet and busy. */
  changes: number;
  /** Busy activity over quiet activity. */
  contrast: number;
}

export interface Levels {
  low: number;
  high: number;
  /** Distance of both over the scatter inside them. */
  apart: number;
  /** Share of time on the high one. */
  share_high: number;
  changes: number;
  /** Median time a change takes over the window's stretch: 1 where it is sharper than can be told. */
  stretch_s: number;
}

export interface Mains {
  base_Hz: 50 | 60;
  /** Amplitude of the strongest of fundamental and second harmonic [units]. */
  amplitude: number;
  /** Power of the family over the window's variance. */
  share: number;
}

export interface CurrentWindow extends Quantiles {
  start_s: number;
  samples: number;
  /** Share of the window without a number. */
  missing: number;
  mean: number;
  sd: number;
  /** From the quartiles: the standard deviation of a normal sample. */
  robust_sd: number;
  min: number;
  max: number;
  skew: number;
  /** Scatter from sample to sample as if white: from the median of first differences. */
  white_sd: number;
  /** Standard deviation of means over about 1 ms (or one sample where that is longer), white noise taken out. */
  slow_sd: number;
  /** Samples at the lowest and at the highest value. */
  at_min: number;
  at_max: number;
  comb: Comb | null;
  mains: Mains | null;
  pulses: Pulses | null;
  bursts: Bursts | null;
  levels: Levels | null;
  /** Mean of the voltage channel; null without one. */
  voltage: number | null;
}
