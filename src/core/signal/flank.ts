/**
 * What stands beside a fall: the lower envelope of the neighbourhood on one side. A valley between two elution peaks
 * comes back to this envelope, a lost spray goes below it.
 */
import { roughQuantile } from '../numeric/robust.ts';

/** Share of the neighbours that may lie below the envelope: peaks may fill three quarters of the neighbourhood. Judgement. */
const ENVELOPE_SHARE = 0.25;
/** The lower quartile of normal scatter lies this many sigma below its middle. */
const QUARTILE_SIGMA = 0.6745;
/** With fewer neighbours a side has nothing to compare with. Judgement. */
const LEAST_NEIGHBOURS = 4;

export interface FlankOptions {
  span_s: number;
  /** Scatter from scan to scan, used to put the quartile back to the middle. */
  sigma: number;
}

/**
 * Log level of the lower envelope beside `edge`, looking backward (`step` -1) or forward (+1) from it; NaN when too few
 * unmasked samples stand there.
 */
export function flankLevel(
  time_s: ArrayLike<number>,
  log_level: ArrayLike<number>,
  masked: Uint8Array,
  edge: number,
  step: 1 | -1,
  options: FlankOptions,
): number {
  const values: number[] = [];
  const from_s = time_s[edge]!;
  for (let i = edge + step; i >= 0 && i < log_level.length; i += step) {
    if (Math.abs(time_s[i]! - from_s) > options.span_s && values.length >= LEAST_NEIGHBOURS) break;
    if (Math.abs(time_s[i]! - from_s) > 2 * options.span_s) break;
    if (masked[i] === 0) values.push(log_level[i]!);
  }
  if (values.length < LEAST_NEIGHBOURS) return Number.NaN;
  return roughQuantile(values, ENVELOPE_SHARE) + QUARTILE_SIGMA * options.sigma;
}
