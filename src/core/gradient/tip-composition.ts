/**
 * Organic share at the tip against time: the pump's table (piecewise linear; before its start the first value has stood
 * for long, after its end the last is held) through the pieces between pump and tip.
 * All plugs and Gaussian pieces act as one Gaussian at their summed delay, in closed form on each kink of the table:
 * c(t) = c0 + Σ Δslope (x Φ(x/σ) + σ φ(x/σ)), x = t − delay − kink. Each mixer then follows y' = (c − y)/τ, exact between
 * the points of a fine grid on which c is taken as linear. Mixing volumes add linearly (contraction on mixing neglected).
 * Breaks where the flow changes along the run or the bed holds the organic solvent back.
 * Check: a ramp lags by the summed delay, whatever the smearing; a step keeps its first two moments (tests).
 */
import type { GradientSpec } from '../setup.ts';
import type { TipDelay } from './gradient-plan.ts';

/** Points of the mixers' grid over the run: a kink is off by at most slope · span / 32,000. */
const GRID = 4000;
/** Below this smearing [min] the Gaussian is a plug. */
const SHARPEST_MIN = 1e-9;

export function pumpOrganic(gradient: GradientSpec, percent_B: number): number {
  const { bottle_A_organic_percent: a, bottle_B_organic_percent: b } = gradient;
  return a + ((b - a) * percent_B) / 100;
}

/** Organic percent at the tip as a function of the run's time [min], up to `until_min`. */
export function tipComposition(
  gradient: GradientSpec,
  delay: TipDelay | null,
  until_min: number,
): (time_min: number) => number {
  const mixers = delay?.pieces.filter((piece) => piece.kind === 'mixer') ?? [];
  const others = delay?.pieces.filter((piece) => piece.kind !== 'mixer') ?? [];
  const shift = others.reduce((sum, piece) => sum + piece.delay_min, 0);
  const smear = Math.hypot(...others.map((piece) => piece.smearing_min));
  const smooth = smoothedTable(gradient, shift, smear);
  if (mixers.length === 0) return smooth;
  const start = Math.min(0, gradient.table[0]!.time_min) - 4 * smear;
  const step = (until_min - start) / GRID;
  let values = Float64Array.from({ length: GRID + 1 }, (_, k) => smooth(start + k * step));
  for (const mixer of mixers) values = stirred(values, step, mixer.delay_min);
  return (time) => {
    const x = Math.min(GRID, Math.max(0, (time - start) / step));
    const k = Math.min(GRID - 1, Math.floor(x));
    return values[k]! + (values[k + 1]! - values[k]!) * (x - k);
  };
}

function smoothedTable(gradient: GradientSpec, shift: number, smear: number): (time: number) => number {
  const rows = gradient.table.map((row) => ({
    time: row.time_min,
    at: pumpOrganic(gradient, row.percent_B),
  }));
  const kinks: { time: number; change: number }[] = [];
  let slope = 0;
  rows.forEach((row, i) => {
    const next = rows[i + 1];
    const after = next === undefined ? 0 : (next.at - row.at) / (next.time - row.time);
    kinks.push({ time: row.time + shift, change: after - slope });
    slope = after;
  });
  return (time) => {
    let sum = rows[0]!.at;
    for (const kink of kinks) sum += kink.change * smoothRamp(time - kink.time, smear);
    return sum;
  };
}

/** A unit ramp from 0, smeared by a Gaussian of the given deviation. */
function smoothRamp(x: number, sd: number): number {
  if (sd < SHARPEST_MIN) return Math.max(0, x);
  const z = x / sd;
  return x * normalBelow(z) + (sd * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
}

function stirred(input: Float64Array, step: number, time: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(input.length);
  const keep = Math.exp(-step / time);
  let y = input[0]!;
  out[0] = y;
  for (let k = 1; k < input.length; k++) {
    const lag = ((input[k]! - input[k - 1]!) / step) * time;
    y = input[k]! - lag + (y - input[k - 1]! + lag) * keep;
    out[k] = y;
  }
  return out;
}

/** Normal distribution function by Abramowitz & Stegun 1964, 7.1.26 (from memory): absolute error below 1e-7. */
function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * poly * Math.exp(-x * x);
  return z > 0 ? 1 - tail : tail;
}
