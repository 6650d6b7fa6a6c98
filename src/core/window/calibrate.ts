/**
 * Bayesian update of the unknowns by what was seen: many prior draws are weighted by the likelihood of all observations,
 * resampled, and each copy is moved a little along the weighted scatter (shrunk towards the mean so that the scatter stays;
 * Liu and West 2001, in Sequential Monte Carlo Methods in Practice, from memory). Draws are always taken afresh from the
 * prior, so that several observations do not wear one small sample out.
 */
import { randomStream } from '../random.ts';
import { type Belief, contactRadiusOf, DRAWS, priorBelief, SEED } from './belief.ts';
import { likelihoods } from './likelihood.ts';
import type { Observation } from './observation.ts';
import { type Draws, UNKNOWNS } from './unknowns.ts';
import { type WindowCondition, windowDraws } from './window-draws.ts';

/** Draws weighted at each update. */
export const WEIGHTED_DRAWS = 12000;
/** Liu and West's shrinkage: copies keep this share of their distance from the mean. */
const SHRINK = 0.95;
/** Below this belief that every observation is right they contradict the set-up or each other. Judgement. */
export const LITTLE_SUPPORT = 0.2;

export interface ObservedAt {
  condition: WindowCondition;
  inletSide_V: number;
  seen: Observation;
}

export function calibrated(
  observed: readonly ObservedAt[],
  count: number = DRAWS,
  seed: number = SEED,
): Belief {
  if (observed.length === 0) return priorBelief(count, seed);
  const many = priorBelief(WEIGHTED_DRAWS, seed);
  const logs = new Float64Array(many.count);
  const allRight = new Float64Array(many.count).fill(1);
  for (const { condition, inletSide_V, seen } of observed) {
    const window = windowDraws(many, condition);
    const radii = many.draws.contact.map((z) => contactRadiusOf(condition.tip, z));
    const { p, right } = likelihoods(window, radii, condition.tip, inletSide_V, seen);
    for (let i = 0; i < logs.length; i++) {
      logs[i]! += Math.log(p[i]!);
      allRight[i]! *= right[i]!;
    }
  }
  const top = logs.reduce((most, log) => Math.max(most, log), Number.NEGATIVE_INFINITY);
  const weight = logs.map((log) => Math.exp(log - top));
  const total = weight.reduce((sum, w) => sum + w, 0);
  return {
    draws: resampled(many.draws, weight, total, count, seed),
    count,
    observations: observed.length,
    support: weight.reduce((sum, w, i) => sum + w * allRight[i]!, 0) / total,
  };
}

/** The same maker's next emitter: what belongs to the batch stays, what differs from piece to piece is drawn anew in part. */
export function sibling(belief: Belief, spread = SIBLING_SPREAD, seed: number = SEED): Belief {
  const random = randomStream(seed, 'sibling');
  const keep = Math.sqrt(1 - spread * spread);
  const draws = { ...belief.draws };
  for (const name of ['contact', 'geometry', 'taper', 'steady', 'several', 'tilt', 'discharge'] as const)
    draws[name] = belief.draws[name].map((z) => keep * z + spread * random.normal());
  return { ...belief, draws };
}
/** Share of an unknown's scatter that differs between siblings. Judgement; a batch's own records replace it. */
export const SIBLING_SPREAD = 0.4;

function resampled(draws: Draws, weight: Float64Array, total: number, count: number, seed: number): Draws {
  const random = randomStream(seed, 'calibration');
  const chosen = systematic(weight, total, count, random.unit());
  const out: Partial<Record<keyof Draws, Float64Array>> = {};
  for (const name of UNKNOWNS) {
    const z = draws[name];
    let mean = 0;
    for (let i = 0; i < z.length; i++) mean += (weight[i]! * z[i]!) / total;
    let variance = 0;
    for (let i = 0; i < z.length; i++) variance += (weight[i]! * (z[i]! - mean) ** 2) / total;
    const kernel = Math.sqrt((1 - SHRINK * SHRINK) * variance);
    out[name] = Float64Array.from(chosen, (i) => mean + SHRINK * (z[i]! - mean) + kernel * random.normal());
  }
  return out as Draws;
}

/** Systematic resampling: draw i appears as often as its weight says, to within one. */
function systematic(weight: Float64Array, total: number, count: number, start: number): Int32Array {
  const chosen = new Int32Array(count);
  let i = 0;
  let sum = weight[0]!;
  for (let k = 0; k < count; k++) {
    const at = ((k + start) * total) / count;
    while (sum < at && i < weight.length - 1) sum += weight[++i]!;
    chosen[k] = i;
  }
  return chosen;
}
