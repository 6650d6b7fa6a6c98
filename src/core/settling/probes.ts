/**
 * Readings that try to prove the model wrong before the search may end: both sides of the recommended point on every axis, both edges of
 * the voltage, and a third of a turn either way around the inlet's axis. A mean that fits only on one side, a second ridge or a
 * one-sided spray shows here. Distances are judgement: about a tenth of the level on a usual source.
 */
import { randomStream } from '../random.ts';
import type { Belief } from './belief.ts';
import type { Limits } from './limits.ts';
import type { Axis, SettlePoint, SettleSession } from './session.ts';

/** Relative for voltage and distance, else mm and degrees. */
const BESIDE: Record<Axis, number> = {
  voltage_V: 0.05,
  distance_mm: 0.2,
  lateral_x_mm: 0.2,
  lateral_y_mm: 0.2,
  angle_deg: 8,
};
/** How far beside this point a probe stands on an axis, in the axis' own unit. */
export function besideUnit(axis: Axis, best: SettlePoint): number {
  return axis === 'voltage_V' || axis === 'distance_mm' ? BESIDE[axis] * best[axis] : BESIDE[axis];
}

/** Voltages this much off the recommended one show a second ridge and the edges. */
const EDGES = [0.82, 1.2];
const EDGE_WITHIN = 0.06;
/** A third of a turn. */
const TURN = (2 * Math.PI) / 3;
const AROUND_WITHIN_MM = 0.3;
const LEAST_RING_MM = 0.25;
/** A reading counts for a side if it lies mainly that way, from half to three times the distance. */
const LEAST_SHARE = 0.5;
const MOST_DISTANCE = 3;
const EXPLORED = 60;

/** The next probe not yet answered by a reading; undefined when all are. */
export function pendingProbe(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  best: SettlePoint,
  read: readonly SettlePoint[],
): SettlePoint | undefined {
  const axes = Object.keys(session.axes) as Axis[];
  // A change of distance carries the voltage along the ridge, so that one axis is asked at a time.
  const carried = (point: SettlePoint): SettlePoint =>
    session.axes.voltage_V === undefined
      ? point
      : {
          ...point,
          voltage_V:
            point.voltage_V *
            Math.exp(
              belief.law.base(point.distance_mm, belief.now) - belief.law.base(best.distance_mm, belief.now),
            ),
        };
  const offsets = read.map((at) => {
    const level = carried({ ...best, distance_mm: at.distance_mm });
    return axes.map(
      (axis) => (at[axis] - (axis === 'voltage_V' ? level : best)[axis]) / besideUnit(axis, best),
    );
  });
  const answered = (k: number, sign: number): boolean =>
    offsets.some((d) => {
      const norm = Math.hypot(...d);
      return sign * d[k]! >= LEAST_SHARE && norm <= MOST_DISTANCE && Math.abs(d[k]!) >= 0.6 * norm;
    });
  const room = (point: SettlePoint, axis: Axis): boolean =>
    Math.abs(limits.allowed(point)[axis] - best[axis]) >= LEAST_SHARE * besideUnit(axis, best);
  for (const [k, axis] of axes.entries())
    for (const sign of [-1, 1]) {
      const point = carried({ ...best, [axis]: best[axis] + sign * besideUnit(axis, best) });
      if (!answered(k, sign) && room(point, axis)) return limits.allowed(point);
    }
  const near = (at: SettlePoint) =>
    offsets[read.indexOf(at)]!.every((d, k) => axes[k] === 'voltage_V' || Math.abs(d) <= MOST_DISTANCE);
  if (session.axes.voltage_V !== undefined)
    for (const share of EDGES) {
      const to = limits.allowed({ ...best, voltage_V: share * best.voltage_V });
      const reached = to.voltage_V / best.voltage_V;
      if (Math.abs(reached - 1) < 2 * EDGE_WITHIN) continue;
      const done = read.some((at) => {
        const ratio = at.voltage_V / carried({ ...best, distance_mm: at.distance_mm }).voltage_V;
        return near(at) && Math.abs(ratio - reached) <= EDGE_WITHIN;
      });
      if (!done) return to;
    }
  return around(session, belief, limits, best, read);
}

function around(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  best: SettlePoint,
  read: readonly SettlePoint[],
): SettlePoint | undefined {
  if (session.axes.lateral_x_mm === undefined || session.axes.lateral_y_mm === undefined) return undefined;
  const { theta, family } = belief.physics;
  if (!family.terms.ring) return undefined;
  const [cx, cy] = [theta[4]!, theta[5]!];
  const here = Math.atan2(best.lateral_y_mm - cy, best.lateral_x_mm - cx);
  const radius = Math.max(LEAST_RING_MM, Math.hypot(best.lateral_x_mm - cx, best.lateral_y_mm - cy));
  for (const turn of [TURN, -TURN]) {
    const to = limits.allowed({
      ...best,
      lateral_x_mm: cx + radius * Math.cos(here + turn),
      lateral_y_mm: cy + radius * Math.sin(here + turn),
    });
    const done = read.some(
      (at) =>
        apart(at, to) <= AROUND_WITHIN_MM &&
        Math.abs(Math.log(at.distance_mm / best.distance_mm)) < 2 * BESIDE.distance_mm,
    );
    if (!done) return to;
  }
  return undefined;
}

/** Sideways [mm]. */
function apart(a: SettlePoint, b: SettlePoint): number {
  return Math.hypot(a.lateral_x_mm - b.lateral_x_mm, a.lateral_y_mm - b.lateral_y_mm);
}

/** Six places this far about the best point, each answered by a reading within so many mm of it. Chosen with the benchmark's two patches, 1.33 mm apart, in view. */
const FAN_MM = 1.3;
const FAN = 6;
const FAN_WITHIN_MM = 0.5;

/** A second patch of spray would show here: asked only where the chance is low, since each costs a move. */
export function fanProbe(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  best: SettlePoint,
  read: readonly SettlePoint[],
): SettlePoint | undefined {
  const { lateral_x_mm: x, lateral_y_mm: y } = session.axes;
  if (x === undefined && y === undefined) return undefined;
  const ridge = (at: SettlePoint) => Math.log(at.voltage_V) - belief.law.base(at.distance_mm, belief.now);
  for (let k = 0; k < FAN; k++) {
    const turn = (2 * Math.PI * k) / FAN;
    const to = limits.allowed({
      ...best,
      lateral_x_mm: best.lateral_x_mm + FAN_MM * Math.cos(turn),
      lateral_y_mm: best.lateral_y_mm + FAN_MM * Math.sin(turn),
    });
    if (apart(to, best) < FAN_MM / 2) continue;
    const done = read.some(
      (at) =>
        apart(at, to) <= FAN_WITHIN_MM &&
        Math.abs(ridge(at) - ridge(best)) <= 2 * BESIDE.voltage_V &&
        Math.abs(Math.log(at.distance_mm / best.distance_mm)) <= 2 * BESIDE.distance_mm,
    );
    if (!done) return to;
  }
  return undefined;
}

/** Where no reading has been: the farthest of some random points from all readings, in the units of the probes. */
export function farthest(
  session: SettleSession,
  belief: Belief,
  limits: Limits,
  best: SettlePoint,
  read: readonly SettlePoint[],
): SettlePoint {
  const random = randomStream(session.seed, `settle explore ${session.readings.length}`);
  const axes = Object.keys(session.axes) as Axis[];
  let found = { point: best, far: -1 };
  for (let k = 0; k < EXPLORED; k++) {
    const point = { ...best };
    for (const axis of axes) {
      const { low, high } = session.axes[axis]!;
      // Between the best point and the ends, more often near.
      const end = random.unit() < 0.5 ? low : high;
      point[axis] = best[axis] + (end - best[axis]) * random.unit() ** 2;
    }
    if (session.axes.voltage_V !== undefined) {
      const shift =
        belief.law.base(point.distance_mm, belief.now) - belief.law.base(best.distance_mm, belief.now);
      point.voltage_V = best.voltage_V * Math.exp(shift) * random.between(0.8, 1.25);
    }
    const to = limits.allowed(point);
    let far = Number.POSITIVE_INFINITY;
    for (const at of read) {
      let sum = 0;
      for (const axis of axes) {
        sum += ((to[axis] - at[axis]) / (2 * besideUnit(axis, best))) ** 2;
      }
      far = Math.min(far, sum);
    }
    // No further than a few units counts as more to learn.
    far = Math.min(far, 9) + 1e-3 * random.unit();
    if (far > found.far) found = { point: to, far };
  }
  return found.point;
}
