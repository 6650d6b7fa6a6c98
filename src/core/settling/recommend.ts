/**
 * The recommended point with what is known of it: expected level, the chance that it is within 5 % of the best that may be reached,
 * how far one may stray before the spray gets unsteady or the level falls by a tenth, and how flat the optimum is, in words.
 */
import { randomStream } from '../random.ts';
import type { Decision } from './advise.ts';
import { meanOf, momentsOf, seen } from './belief.ts';
import { solveUpper } from './cholesky.ts';
import { covarianceOf, type Mode } from './fit.ts';
import { radiusShift } from './onset-law.ts';
import { DRIFT_TIME_MIN, physicsMean, placeOf } from './physics-mean.ts';
import {
  AXES,
  type Axis,
  type Margin,
  type MarginEnd,
  type Recommendation,
  type SettlePoint,
  type SettleSession,
} from './session.ts';

const WITHIN = Math.log(1 / 0.95);
const TENTH = Math.log(1 / 0.9);
const SAMPLES = 100;
/** Longest walk of a margin, in pieces of the axis' range. */
const PIECES = 80;
const STEADY_ENOUGH = 0.5;

export const UNITS: Record<Axis, { unit: Margin['unit']; per: number }> = {
  voltage_V: { unit: 'V', per: 1 },
  distance_mm: { unit: 'µm', per: 1000 },
  lateral_x_mm: { unit: 'µm', per: 1000 },
  lateral_y_mm: { unit: 'µm', per: 1000 },
  angle_deg: { unit: '°', per: 1 },
};

export function recommendation(session: SettleSession, decision: Decision): Recommendation {
  const { best, ledger, edges } = decision;
  const { mean, sd } = momentsOf(ledger.belief, seen(ledger.belief, best));
  const margins = AXES.filter((axis) => session.axes[axis] !== undefined).map((axis) =>
    marginOf(session, decision, axis, mean),
  );
  return {
    at: best,
    level: session.matters !== 'level' ? levelReadNear(session, best) : Math.exp(mean),
    level_factor: Math.exp(sd),
    chance_within_5_percent: chanceWithin(session, decision),
    chance_steady: edges.steady(best),
    margins,
    flatness: flatnessOf(margins),
  };
}

/** Where the scatter is what matters the level is read, not modelled: the nearest reading's. */
function levelReadNear({ readings }: SettleSession, best: SettlePoint): number {
  const far = (at: SettlePoint) =>
    Math.abs(at.voltage_V - best.voltage_V) / 50 +
    Math.hypot(at.lateral_x_mm - best.lateral_x_mm, at.lateral_y_mm - best.lateral_y_mm) * 5 +
    Math.abs(at.distance_mm - best.distance_mm) * 3;
  const nearest = readings.toSorted((a, b) => far(a.at) - far(b.at))[0];
  return nearest?.level ?? 0;
}

function marginOf(session: SettleSession, decision: Decision, axis: Axis, top: number): Margin {
  const { best, ledger, edges, limits } = decision;
  const spec = session.axes[axis]!;
  const high = axis === 'voltage_V' ? Math.min(spec.high, limits.most_V(best.distance_mm)) : spec.high;
  const startsSteady = edges.steady(best) >= STEADY_ENOUGH;
  const piece = Math.max(spec.step, (spec.high - spec.low) / PIECES);
  const walk = (sign: 1 | -1): { by: number; ends: MarginEnd } => {
    const room = sign > 0 ? high - best[axis] : best[axis] - spec.low;
    let before = 0;
    for (let by = piece; before < room; by += piece) {
      const here = Math.min(by, room);
      const point = { ...best, [axis]: best[axis] + sign * here };
      const fallen = top - meanOf(ledger.belief, seen(ledger.belief, point));
      const unsteady = startsSteady && edges.steady(point) < STEADY_ENOUGH;
      if (fallen > TENTH || unsteady) {
        const share = fallen > TENTH ? Math.sqrt(TENTH / fallen) : 1;
        // The level falls as a square about the top; an edge is stated to the piece before it.
        const at = unsteady && fallen <= TENTH ? before : Math.max(before, share * here);
        return { by: at, ends: unsteady && fallen <= TENTH ? 'unsteady' : 'level down by a tenth' };
      }
      before = here;
    }
    return { by: room, ends: 'your limit' };
  };
  const [down, up] = [walk(-1), walk(1)];
  const { unit, per } = UNITS[axis];
  const round = (value: number) => Number((value * per).toPrecision(2));
  return { axis, down: round(down.by), up: round(up.by), unit, down_ends: down.ends, up_ends: up.ends };
}

/** Share of believed worlds in which the point is within 5 % of the best allowed one. */
export function chanceWithin(session: SettleSession, { best, ledger, limits, law }: Decision): number {
  const { belief } = ledger;
  const random = randomStream(session.seed, `settle chance ${session.readings.length}`);
  let chance = 0;
  for (const { mode, weight } of belief.modes) {
    const bent = bentBy(mode, belief, best);
    let good = 0;
    for (let k = 0; k < SAMPLES; k++) {
      const theta = Float64Array.from(mode.theta);
      const z = Float64Array.from({ length: mode.free.length }, random.normal);
      solveUpper(z.length, mode.precision, z);
      for (const [a, i] of mode.free.entries()) theta[i]! += z[a]!;
      const { terms } = mode.family;
      const top = limits.allowed(topOf(session, theta, best, law, belief.now, terms));
      const at = (point: SettlePoint) => physicsMean(terms, theta, placeOf(law, point, belief.now));
      const lost = at(top) - at(best) + bent * random.normal();
      if (lost < WITHIN) good++;
    }
    chance += (weight * good) / SAMPLES;
  }
  return chance;
}

/** What the smooth unknown may add elsewhere: its spread a length away, shared between the two points. */
function bentBy(mode: Mode, belief: Decision['ledger']['belief'], best: SettlePoint): number {
  const k = belief.modes.findIndex((m) => m.mode === mode);
  const view = seen(belief, best)[k]!;
  return Math.min(mode.family.kernel.sd, Math.sqrt(Math.max(0, covarianceOf(mode, view, view))));
}

function topOf(
  session: SettleSession,
  theta: ArrayLike<number>,
  near: SettlePoint,
  law: Decision['law'],
  now: number,
  terms: Mode['family']['terms'],
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
  if (terms.ridge && session.axes.voltage_V !== undefined) {
    const { c } = placeOf(law, { ...top, voltage_V: 1000 }, now);
    const unit = Math.exp(c - Math.log(1000));
    top.voltage_V = (theta[2]! / unit) * Math.exp(driftAndRadius(theta, law, top, now));
  }
  return top;
}

function driftAndRadius(
  theta: ArrayLike<number>,
  law: Decision['law'],
  at: SettlePoint,
  now: number,
): number {
  return radiusShift(law.logGap(at.distance_mm), theta[1]!) + (theta[10]! * now) / DRIFT_TIME_MIN;
}

function flatnessOf(margins: readonly Margin[]): string {
  const volts = margins.find(({ axis }) => axis === 'voltage_V');
  const place = margins.filter(({ unit }) => unit === 'µm');
  const narrow = place.toSorted((a, b) => Math.min(a.down, a.up) - Math.min(b.down, b.up))[0];
  const parts: string[] = [];
  if (volts) parts.push(`${volts.down} V down and ${volts.up} V up`);
  if (narrow) parts.push(`${Math.min(narrow.down, narrow.up)} µm ${AXIS_WORDS[narrow.axis].along}`);
  if (parts.length === 0) return 'Nothing moves, so nothing is said of how flat the optimum is.';
  const flat =
    (volts === undefined || Math.min(volts.down, volts.up) >= 60) &&
    (narrow === undefined || Math.min(narrow.down, narrow.up) >= 150);
  return `The optimum is ${flat ? 'flat' : 'narrow'}: it holds for ${parts.join(' and ')} before a tenth of the level or the steady spray is lost.`;
}

export const AXIS_WORDS: Record<Axis, { name: string; along: string }> = {
  voltage_V: { name: 'voltage', along: 'in voltage' },
  distance_mm: { name: 'distance', along: 'in distance' },
  lateral_x_mm: { name: 'lateral x', along: 'in lateral x' },
  lateral_y_mm: { name: 'lateral y', along: 'in lateral y' },
  angle_deg: { name: 'angle', along: 'in angle' },
};
