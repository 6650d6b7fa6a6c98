/**
 * The chance that a point is within 5 % of the best that may be reached: draws of the whole believed level (mean, its parameters and
 * the smooth part that the readings bent it by) at the point and at its rivals together, the rivals being the optima of drawn
 * parameters, the places beside the point and the best readings. Breaks where the best lies where no rival stands (a second
 * patch that no reading came near).
 */
import { randomStream } from '../random.ts';
import { seen } from './belief.ts';
import { cholesky } from './cholesky.ts';
import { type Edges, unsteadyLoss } from './edges.ts';
import { covarianceOf, sampledTheta } from './fit.ts';
import type { Ledger } from './ledger.ts';
import type { Limits } from './limits.ts';
import type { OnsetLaw } from './onset-law.ts';
import { ridgeVoltage, type Terms } from './physics-mean.ts';
import { besideUnit } from './probes.ts';
import type { Axis, SettlePoint, SettleSession } from './session.ts';

const WITHIN = Math.log(1 / 0.95);
const DRAWS = 200;
/** Optima of drawn parameters, over all modes. */
const OPTIMA = 24;
/** Beside the point on each axis, in the units of the probes. */
const BESIDE_BY = [-1, -0.5, 0.5, 1];
const READ_RIVALS = 5;
/** What no family holds (saturation, events taken for real): 5 of 46 tuned ends said 0.9 or more and missed. Judgement. */
const MOST_SURE = 0.95;
/** Keeps the covariance of near points positive. */
const JITTER = 1e-8;

export interface Standing {
  /** The point to recommend; the start before any reading. */
  best: SettlePoint;
  ledger: Ledger;
  limits: Limits;
  law: OnsetLaw;
  edges: Edges;
}

export function chanceWithin(session: SettleSession, standing: Standing): number {
  const { best, edges } = standing;
  const { belief } = standing.ledger;
  const random = randomStream(session.seed, `settle chance ${session.readings.length}`);
  const points = [best, ...rivals(session, standing, random.normal)];
  const views = points.map((point) => seen(belief, point));
  const loss = points.map((point) => unsteadyLoss(edges, point));
  const n = points.length;
  let chance = 0;
  for (const [m, { mode, weight }] of belief.modes.entries()) {
    const factor = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) factor[i * n + j] = covarianceOf(mode, views[i]![m]!, views[j]![m]!);
      factor[i * n + i]! += JITTER;
    }
    cholesky(n, factor);
    const mean = views.map((view, i) => view[m]!.mean - loss[i]!);
    let good = 0;
    for (let k = 0; k < DRAWS; k++) {
      const z = Float64Array.from({ length: n }, random.normal);
      const level = (i: number) => {
        let sum = mean[i]!;
        for (let j = 0; j <= i; j++) sum += factor[i * n + j]! * z[j]!;
        return sum;
      };
      const here = level(0) + WITHIN;
      let holds = true;
      for (let i = 1; i < n && holds; i++) holds = level(i) < here;
      if (holds) good++;
    }
    chance += (weight * good) / DRAWS;
  }
  return MOST_SURE * chance;
}

function rivals(
  session: SettleSession,
  { best, ledger, limits, law }: Standing,
  normal: () => number,
): SettlePoint[] {
  const { belief } = ledger;
  const found = new Map<string, SettlePoint>();
  const add = (point: SettlePoint): void => {
    const to = limits.allowed(point);
    found.set(Object.values(to).join(' '), to);
  };
  for (const { mode, weight } of belief.modes) {
    if (!mode.family.terms.ridge && !mode.family.terms.ring) continue;
    for (let k = 0; k < Math.ceil(OPTIMA * weight); k++)
      add(topOf(session, sampledTheta(mode, normal), best, law, belief.now, mode.family.terms));
  }
  for (const axis of Object.keys(session.axes) as Axis[])
    for (const by of BESIDE_BY) add({ ...best, [axis]: best[axis] + by * besideUnit(axis, best) });
  const read = session.readings.toSorted((a, b) => b.level - a.level).slice(0, READ_RIVALS);
  for (const { at } of read) add(at);
  found.delete(Object.values(best).join(' '));
  return [...found.values()];
}

function topOf(
  session: SettleSession,
  theta: ArrayLike<number>,
  near: SettlePoint,
  law: OnsetLaw,
  now: number,
  terms: Terms,
): SettlePoint {
  const top = { ...near };
  if (terms.distance) top.distance_mm = Math.exp(theta[8]!);
  if (terms.angle) top.angle_deg = theta[11]!;
  if (terms.ring) {
    const [dx, dy] = [near.lateral_x_mm - theta[4]!, near.lateral_y_mm - theta[5]!];
    const r = Math.hypot(dx, dy) || 1;
    top.lateral_x_mm = theta[4]! + (dx / r) * theta[6]!;
    top.lateral_y_mm = theta[5]! + (dy / r) * theta[6]!;
  }
  if (terms.ridge && session.axes.voltage_V !== undefined)
    top.voltage_V = ridgeVoltage(law, theta, top.distance_mm, now);
  return top;
}
