/**
 * What is believed of one emitter: draws of its unknowns. `windowDraws` says what each draw means at one condition.
 * Draw i is the same imagined emitter at every condition; where a liquid's model is off, it is off by the same quantile
 * at every composition (judgement: the error of one model, not of many readings).
 */
import type { Estimate } from '../estimate.ts';
import { normalShare } from '../numeric/normal.ts';
import { CONTACT, PRESSURE } from './priors.ts';
import type { TipOnset } from './tip-onset.ts';
import type { ContactPlace } from './tip-solves.ts';
import { type Draws, priorDraws } from './unknowns.ts';

export const DRAWS = 1000;
export const SEED = 1;
/** Half of an 80 % range in standard deviations. */
export const EIGHTY = 1.2815515655446004;

export interface Belief {
  draws: Draws;
  count: number;
  /** Observations it has taken in. */
  observations: number;
  /** Belief that every observation is right; small means they contradict the set-up or each other. 1 before any. */
  support: number;
}

export function priorBelief(count: number = DRAWS, seed: number = SEED): Belief {
  return { draws: priorDraws(count, seed), count, observations: 0, support: 1 };
}

/** A factor known to an 80 % range, as its quantile z: log-normal, each side on its own. */
export function factorOf({ value, low, high }: Pick<Estimate, 'value' | 'low' | 'high'>, z: number): number {
  const side = z >= 0 ? Math.log(high / value) : Math.log(value / Math.max(low, value * SMALLEST_SHARE));
  return Math.exp((side * z) / EIGHTY);
}
/** Factor beyond the 80 % range: 1 inside it, `atTwo` at two standard deviations, growing with the square of what is beyond. */
export function tailFactor(atTwo: number, z: number): number {
  const beyond = Math.max(0, Math.abs(z) - EIGHTY);
  return Math.exp(Math.sign(z) * Math.log(atTwo) * (beyond / (2 - EIGHTY)) ** 2);
}

/** A range that reaches zero stands for 'at least a hundred times less'. */
const SMALLEST_SHARE = 0.01;

/** Log-normal between the ends of an 80 % range. */
export function between({ low, high }: { low: number; high: number }, z: number): number {
  return Math.sqrt(low * high) * Math.exp((Math.log(high / low) / 2) * (z / EIGHTY));
}

/** Radius of the contact line [m]: at its stated place, crept outward, or still inside; log-uniform off the place. */
export function contactRadiusOf(tip: TipOnset, z: number): number {
  const { inside, outside } = CONTACT[tip.geometry.place];
  const share = normalShare(z);
  const inner = neighbour(tip, -1);
  const outer = neighbour(tip, 1);
  const p = inner === undefined ? 0 : inside;
  const q = outer === undefined ? 0 : outside;
  if (inner !== undefined && share < p) return inner * (tip.radius / inner) ** (share / p);
  if (outer !== undefined && share > 1 - q) return tip.radius * (outer / tip.radius) ** ((share - 1 + q) / q);
  // Between: a narrow spread about the stated place, cut where the creeping begins.
  const middle = (share - p) / (1 - p - q);
  return tip.radius * Math.exp(CONTACT.scatter * (2 * middle - 1));
}

/** Pressure at the meniscus [γ/a]; `mean` is what the feed itself sets. */
export function pressureOf(mean: number, z: number): number {
  return Math.min(PRESSURE.most, Math.max(PRESSURE.least, mean + pressureOffset(z)));
}

/** What the pressure at the meniscus differs from what the feed sets [γ/a]. */
export function pressureOffset(z: number): number {
  return (PRESSURE.half * z) / EIGHTY;
}

function neighbour(tip: TipOnset, step: -1 | 1): number | undefined {
  const order: ContactPlace[] = tip.places.map(({ place }) => place);
  return tip.places[order.indexOf(tip.geometry.place) + step]?.radius;
}
