/**
 * Where to read next: candidates about every mode's optimum, along the voltage and about the best point, each weighed by the
 * gain expected over the best point per second. The gain is that of the difference to the best point under each mode (so that what
 * both share does not count), shrunk by the noise of one reading (after Frazier et al. 2009, INFORMS J. Comput. 21, 599, from memory).
 */

import { normalShare } from '../numeric/normal.ts';
import { randomStream } from '../random.ts';
import { type Belief, meanOf, seen } from './belief.ts';
import { covarianceOf, type Projection, sampledTheta } from './fit.ts';
import type { Limits } from './limits.ts';
import { ridgeVoltage } from './physics-mean.ts';
import { type Axis, costOf, type SettlePoint, type SettleSession } from './session.ts';

export interface Search {
  /** Highest expected worth that may be reached. */
  best: SettlePoint;
  bestMean: number;
  next: SettlePoint;
  /** Expected gain of reading at `next`, in the logarithm. */
  gain: number;
}

/** Gain per second^this: 1 counts seconds only, 0 readings only. */
export const COST_EXPONENT = 0.25;
const SAMPLES = 16;
const ROUNDS = 10;

export function search(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  current: SettlePoint,
  noise: number,
  penalty: (point: SettlePoint) => number,
): Search {
  const points = candidates(session, belief, limits, current);
  const views = points.map((point) => seen(belief, point));
  const worth = views.map((view, k) => meanOf(belief, view) - penalty(points[k]!));
  let top = 0;
  for (const [k, w] of worth.entries()) if (w > worth[top]!) top = k;
  const polished = polish(session, belief, limits, points[top]!, worth[top]!, penalty);
  const bestView = seen(belief, polished.point);
  let [next, gain, score] = [polished.point, 0, 0];
  const at = polished.point;
  for (const [k, point] of [...points, at].entries()) {
    const view = views[k] ?? bestView;
    const g = expectedGain(belief, view, bestView, noise, penalty(point) - penalty(at));
    const s = g / costOf(current, point) ** COST_EXPONENT;
    if (s > score) [next, gain, score] = [point, g, s];
  }
  return { best: at, bestMean: polished.worth, next, gain };
}

function expectedGain(
  belief: Belief,
  at: readonly Projection[],
  best: readonly Projection[],
  noise: number,
  penalty: number,
): number {
  let sum = 0;
  for (const [k, { mode, weight }] of belief.modes.entries()) {
    const [a, b] = [at[k]!, best[k]!];
    const v = covarianceOf(mode, a, a) + covarianceOf(mode, b, b) - 2 * covarianceOf(mode, a, b);
    const variance = Math.max(1e-12, v);
    const sd = variance / Math.sqrt(variance + noise * noise);
    const d = a.mean - b.mean - penalty;
    const z = d / sd;
    sum += weight * (d * normalShare(z) + (sd * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI));
  }
  return sum;
}

function candidates(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  current: SettlePoint,
): SettlePoint[] {
  const random = randomStream(session.seed, `settle candidates ${session.readings.length}`);
  const found = new Map<string, SettlePoint>();
  const add = (point: SettlePoint): void => {
    const allowed = limits.allowed(point);
    found.set(Object.values(allowed).join(' '), allowed);
  };
  const { axes } = session;
  const onRidge = (point: SettlePoint, theta: ArrayLike<number>, ratio?: number): SettlePoint => {
    if (axes.voltage_V === undefined) return point;
    return { ...point, voltage_V: ridgeVoltage(belief.law, theta, point.distance_mm, belief.now, ratio) };
  };
  for (const { mode, weight } of belief.modes) {
    const count = Math.ceil(4 + SAMPLES * weight);
    for (let k = 0; k < count; k++) {
      const theta = k === 0 ? mode.theta : sampledTheta(mode, random.normal);
      const distance = mode.family.terms.distance ? Math.exp(theta[8]!) : current.distance_mm;
      const angle = mode.family.terms.angle ? theta[11]! : current.angle_deg;
      const from = { ...current, distance_mm: distance, angle_deg: angle };
      if (mode.family.terms.ring) {
        const here = Math.atan2(current.lateral_y_mm - theta[5]!, current.lateral_x_mm - theta[4]!);
        for (const turn of k === 0 ? [0, 1, 2, 3, 4, 5, 6, 7] : [0, random.between(0, 8)]) {
          const angleAt = here + (turn * Math.PI) / 4;
          const [x, y] = [
            theta[4]! + theta[6]! * Math.cos(angleAt),
            theta[5]! + theta[6]! * Math.sin(angleAt),
          ];
          add(onRidge({ ...from, lateral_x_mm: x, lateral_y_mm: y }, theta));
          if (turn === 0) add(onRidge({ ...current, lateral_x_mm: x, lateral_y_mm: y }, theta));
        }
      } else add(onRidge(from, theta));
      add(onRidge(current, theta));
      add(onRidge({ ...current, distance_mm: distance }, theta));
    }
  }
  const volts = axes.voltage_V;
  if (volts !== undefined)
    for (let k = 0; k <= 24; k++)
      add({ ...current, voltage_V: volts.low + ((volts.high - volts.low) * k) / 24 });
  const theta = belief.modes[0]!.mode.theta;
  for (let k = 0; k < 24; k++) {
    const point = { ...current };
    for (const axis of Object.keys(axes) as Axis[])
      point[axis] += random.normal() * SPREAD[axis] * (k < 12 ? 1 : 0.3);
    add(k % 2 === 0 ? onRidge(point, theta, 1.17 + 0.08 * random.normal()) : point);
  }
  for (let k = 0; k < 12; k++) {
    const point = { ...current };
    for (const axis of Object.keys(axes) as Axis[])
      point[axis] = random.between(axes[axis]!.low, axes[axis]!.high);
    add(onRidge(point, theta, 1.17 + 0.08 * random.normal()));
  }
  for (const { at } of session.readings) add(at);
  return [...found.values()];
}

/** Spread of candidates about the current point. */
const SPREAD: Record<Axis, number> = {
  voltage_V: 80,
  distance_mm: 0.6,
  lateral_x_mm: 0.5,
  lateral_y_mm: 0.5,
  angle_deg: 8,
};

/** Climbs the expected worth along each axis, steps halved down to the person's own. */
function polish(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  start: SettlePoint,
  worth: number,
  penalty: (point: SettlePoint) => number,
): { point: SettlePoint; worth: number } {
  let best = { point: start, worth };
  let scale = 1;
  for (let round = 0; round < ROUNDS && scale > 0.1; round++) {
    let better = false;
    for (const axis of Object.keys(session.axes) as Axis[])
      for (const sign of [-1, 1]) {
        const point = limits.allowed({
          ...best.point,
          [axis]: best.point[axis] + sign * Math.max(session.axes[axis]!.step, scale * SPREAD[axis]),
        });
        const w = meanOf(belief, seen(belief, point)) - penalty(point);
        if (w > best.worth + 1e-9) {
          best = { point, worth: w };
          better = true;
        }
      }
    if (!better) scale /= 2;
  }
  return best;
}
