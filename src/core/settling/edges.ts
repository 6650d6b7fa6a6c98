/**
 * Where the spray is steady in V/V_on: a lower and an upper edge, each with a prior (judgement, physics.md's working ratios) and the
 * readings' own verdicts, one in twenty of which may be wrong. Coming down from a steady spray the lower edge is lower by about a
 * tenth (hysteresis, common practice: 5 to 15 %). Where the physics mean is given up the priors are wide.
 */
import type { Belief } from './belief.ts';
import { isUnsteady } from './objective.ts';
import { placeOf, ratioAt } from './physics-mean.ts';
import type { ReadingTaken, SettlePoint, SettleSession } from './session.ts';

export interface Edges {
  /** Chance that the spray is steady at this point, reached by a raise (or from a position move). */
  steady(point: SettlePoint): number;
  /** The same where the voltage came down from a steady spray. */
  steadyComingDown(point: SettlePoint): number;
}

/** What an unsteady point loses in the logarithm. */
const UNSTEADY_COST = 0.5;

/** What the expected worth of a point loses to the chance that it is unsteady. */
export function unsteadyLoss(edges: Edges, point: SettlePoint): number {
  return UNSTEADY_COST * (1 - edges.steady(point));
}

const LOW = { mean: 1.06, sd: 0.05, from: 0.8, to: 1.3 };
const HIGH = { mean: 1.37, sd: 0.1, from: 1.12, to: 2 };
const WIDE_SD = 0.25;
const STEP = 0.01;
const WRONG = 0.05;
export const COMING_DOWN = 0.9;
/** Under this share of belief the physics mean counts as given up. */
const GIVEN_UP = 0.05;

export function edgesOf(session: SettleSession, belief: Belief, taken: readonly ReadingTaken[]): Edges {
  const { theta } = belief.physics;
  const physics = belief.modes.reduce((sum, m) => sum + (m.mode.family.terms.ridge ? m.weight : 0), 0);
  const wide = physics < GIVEN_UP;
  const low = grid(LOW, wide);
  const high = grid(HIGH, wide);
  const seen: { low: number; ratio: number; ok: boolean; side: 'low' | 'high' | 'either' }[] = [];
  for (const [k, reading] of session.readings.entries()) {
    if (taken[k] === 'event' || taken[k] === 'doubted') continue;
    const ratio = ratioAt(theta, placeOf(belief.law, reading.at, reading.time_s / 60));
    const before = session.readings[k - 1];
    const down = before !== undefined && before.at.voltage_V > reading.at.voltage_V && !isUnsteady(before);
    const states = reading.seen ?? [];
    const side = states.some((s) => s === 'no spray' || s === 'dripping')
      ? 'low'
      : states.some((s) => s === 'tilted' || s === 'several jets' || s === 'discharge')
        ? 'high'
        : 'either';
    seen.push({ low: down ? ratio / COMING_DOWN : ratio, ratio, ok: !isUnsteady(reading), side });
  }
  // The other edge is taken at its prior middle while one is weighed: enough where they lie far apart.
  for (const { low: at, ratio, ok, side } of seen) {
    const above = ratio > HIGH.mean;
    const below = at < LOW.mean;
    if (ok || side === 'low' || (side === 'either' && !above)) weigh(low, (edge) => at >= edge === ok);
    if (ok || side === 'high' || (side === 'either' && !below)) weigh(high, (edge) => ratio <= edge === ok);
  }
  const lowUnder = cumulative(low);
  const highUnder = cumulative(high);
  const at = (point: SettlePoint): number => ratioAt(theta, placeOf(belief.law, point, belief.now));
  const chance = (lowRatio: number, ratio: number) => lowUnder(lowRatio) * (1 - highUnder(ratio));
  return {
    steady: (point) => chance(at(point), at(point)),
    steadyComingDown: (point) => chance(at(point) / COMING_DOWN, at(point)),
  };
}

interface Grid {
  edges: number[];
  weights: Float64Array;
}

function grid(prior: { mean: number; sd: number; from: number; to: number }, wide: boolean): Grid {
  const edges: number[] = [];
  for (let e = prior.from; e <= prior.to; e += STEP) edges.push(e);
  const sd = wide ? WIDE_SD : prior.sd;
  return { edges, weights: Float64Array.from(edges, (e) => Math.exp(-0.5 * ((e - prior.mean) / sd) ** 2)) };
}

function weigh({ edges, weights }: Grid, fits: (edge: number) => boolean): void {
  let sum = 0;
  for (const [k, edge] of edges.entries()) {
    weights[k]! *= fits(edge) ? 1 - WRONG : WRONG;
    sum += weights[k]!;
  }
  for (const k of edges.keys()) weights[k]! /= sum;
}

/** P(edge ≤ ratio). */
function cumulative({ edges, weights }: Grid): (ratio: number) => number {
  const total = weights.reduce((a, b) => a + b, 0);
  let running = 0;
  const under = edges.map((_, k) => (running += weights[k]! / total));
  return (ratio) => {
    const x = (ratio - edges[0]!) / STEP;
    if (x < 0) return 0;
    const k = Math.min(edges.length - 1, Math.floor(x));
    const a = under[k]!;
    const b = under[k + 1] ?? 1;
    return a + (b - a) * Math.min(1, x - k);
  };
}
