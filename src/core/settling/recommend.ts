/**
 * The recommended point with what is known of it: expected level, the chance that it is within 5 % of the best that may be reached,
 * how far one may stray before the spray gets unsteady or the level falls by a tenth, and how flat the optimum is, in words.
 */
import type { Decision } from './advise.ts';
import { meanOf, momentsOf, seen } from './belief.ts';
import { chanceWithin } from './chance.ts';
import {
  AXES,
  type Axis,
  type Margin,
  type MarginEnd,
  type Recommendation,
  type SettlePoint,
  type SettleSession,
} from './session.ts';

const TENTH = Math.log(1 / 0.9);
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
    chance_within_5_percent: decision.chance ?? chanceWithin(session, decision),
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
