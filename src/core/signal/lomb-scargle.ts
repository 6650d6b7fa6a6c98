/**
 * Periodogram of an unevenly sampled series: least squares fit of a constant, a cosine and a sine at each frequency
 * (Zechmeister and Kürster, 2009, Astron Astrophys 496:577, from memory; equal weights). Power is the share of the
 * variance the fit takes, 0..1. For white normal noise it exceeds p at one frequency with the probability
 * (1 - p)^((n - 3) / 2). Uneven times make no sharp limit at half of the sampling rate: what lies above it is folded,
 * the more evenly the times stand the more exactly.
 */

import { turningAngles } from './turning-angles.ts';

export interface Periodogram {
  frequency_Hz: Float64Array;
  /** Share of the variance explained, 0..1. */
  power: Float64Array;
  /** Amplitude of the fitted sinusoid: half of peak to peak. */
  amplitude: Float64Array;
}

/** `step_Hz` apart from `from_Hz` on. */
export function lombScargle(
  time_s: ArrayLike<number>,
  value: ArrayLike<number>,
  from_Hz: number,
  step_Hz: number,
  count: number,
): Periodogram {
  const n = value.length;
  const frequency_Hz = Float64Array.from({ length: count }, (_, k) => from_Hz + k * step_Hz);
  const power = new Float64Array(count);
  const amplitude = new Float64Array(count);
  let mean = 0;
  for (let i = 0; i < n; i++) mean += value[i]!;
  mean /= n;
  const y = Float64Array.from({ length: n }, (_, i) => value[i]! - mean);
  let yy = 0;
  for (let i = 0; i < n; i++) yy += y[i]! * y[i]!;
  if (n < 4 || !(yy > 0)) return { frequency_Hz, power, amplitude };
  const angles = turningAngles(time_s, from_Hz, step_Hz);
  const { cos, sin } = angles;
  for (let k = 0; k < count; k++) {
    let c1 = 0;
    let s1 = 0;
    let yc = 0;
    let ys = 0;
    let cc = 0;
    let cs = 0;
    angles.toNext();
    for (let i = 0; i < n; i++) {
      const c = cos[i]!;
      const s = sin[i]!;
      c1 += c;
      s1 += s;
      yc += y[i]! * c;
      ys += y[i]! * s;
      cc += c * c;
      cs += c * s;
    }
    const CC = cc - (c1 * c1) / n;
    const SS = n - cc - (s1 * s1) / n;
    const CS = cs - (c1 * s1) / n;
    const D = CC * SS - CS * CS;
    // Where all samples share one phase there is nothing to fit.
    if (!(D > FLAT * n * n)) continue;
    const a = (yc * SS - ys * CS) / D;
    const b = (ys * CC - yc * CS) / D;
    power[k] = Math.min(1, Math.max(0, (a * yc + b * ys) / yy));
    amplitude[k] = Math.hypot(a, b);
  }
  return { frequency_Hz, power, amplitude };
}

/** ln of the probability that white normal noise of `n` samples shows a power above `power` at one frequency. */
export function logChance(power: number, n: number): number {
  return ((n - 3) / 2) * Math.log1p(-Math.min(power, 1 - 1e-12));
}

const FLAT = 1e-6;
