/**
 * Invented hidden sources for the settle benchmark: the source of the feasibility study (window in V/V_on, ring off the axis,
 * log-normal distance) and kinds whose form the search does not share. Each seed draws its hidden values anew.
 */

import { randomStream } from '../../src/core/random.ts';
import type { SettlePoint } from '../../src/core/settling/index.ts';

export const KINDS = [
  'matched',
  'hard',
  'skewed',
  'double ridge',
  'backlash',
  'events',
  'saturation',
  'drift',
  'strong drift',
] as const;
export type Kind = (typeof KINDS)[number];

export interface SourceReading {
  level: number;
  scatter_percent: number;
}

export interface Source {
  kind: Kind;
  /** What the instrument shows after going from where it stands to this point; `fromBelow`: every screw approached from one side. */
  read(at: SettlePoint, time_s: number, fromBelow: boolean): SourceReading;
  /** True share of the best that can be reached, were this point set now. */
  share(at: SettlePoint, time_s: number, fromBelow: boolean): number;
  steady(at: SettlePoint, time_s: number): boolean;
  /** V_on(time)/V_on(0). */
  onsetFactor(time_s: number): number;
}

export const BOX = {
  voltage_V: { low: 900, high: 3200, step: 10 },
  distance_mm: { low: 1, high: 8, step: 0.1 },
  lateral_x_mm: { low: -2, high: 2, step: 0.05 },
  lateral_y_mm: { low: -2, high: 2, step: 0.05 },
} as const;
export const START: SettlePoint = {
  voltage_V: 1900,
  distance_mm: 3,
  lateral_x_mm: 0,
  lateral_y_mm: 0,
  angle_deg: 0,
};

const BEST_RATIO = 1.17;
const RATIO_WIDTH = 0.1;
const STEADY = { low: 1.06, high: 1.35 };
const TENSION = 0.036;
const NOISE = { steady: 0.05, unsteady: 0.4 };
const FLOOR = 1e-4;
/** Drift of ln γ, spread over this time. */
const DRIFT = { drift: Math.log(0.7), 'strong drift': Math.log(0.45) };
const DRIFT_TIME_S = 120 * 40;
const BACKLASH_MM = 0.15;
const EVENT_CHANCE = 0.08;

export function hiddenSource(kind: Kind, seed: number): Source {
  const draw = randomStream(seed, `hidden source ${kind === 'hard' ? 'hard' : 'usual'}`);
  const hard = kind === 'hard';
  const radius = 45e-6 * draw.factor(hard ? 0.8 : 0.35);
  const tension = TENSION * draw.factor(hard ? 0.2 : 0.08);
  const centreSd = hard ? 0.7 : 0.4;
  const centre = { x: draw.normal() * centreSd, y: draw.normal() * centreSd };
  const second = draw.between(0, 2 * Math.PI);
  const noise = randomStream(seed, 'noise of readings');
  const onsetFactor = (t: number): number =>
    kind === 'drift' || kind === 'strong drift'
      ? Math.exp((DRIFT[kind] / 2) * Math.min(1, t / DRIFT_TIME_S))
      : 1;
  const onset = (z: number, t: number): number =>
    Math.sqrt((radius * tension * Math.cos((49.3 * Math.PI) / 180)) / (2 * 8.8541878128e-12)) *
    Math.log((4e-3 * z) / radius) *
    onsetFactor(t);
  const shape = (p: { v: number; z: number; x: number; y: number }, t: number): number => {
    const ratio = p.v / onset(p.z, t);
    const r = Math.hypot(p.x - centre.x, p.y - centre.y);
    if (kind === 'skewed') {
      // A steep lower side and a long upper one, in voltage, radius and distance.
      const a = ratio < BEST_RATIO ? 0.06 : 0.16;
      const b = r < 0.5 ? 0.5 : 0.25;
      const c = p.z < 2.6 ? 0.3 : 0.7;
      return gauss((ratio - BEST_RATIO) / a) * gauss((r - 0.5) / b) * gauss(Math.log(p.z / 2.6) / c);
    }
    const window = gauss((ratio - BEST_RATIO) / RATIO_WIDTH);
    const along = gauss(Math.log(p.z / 2.6) / 0.45);
    if (kind === 'double ridge') {
      // Two patches instead of a ring, and a second, lower ridge at a higher ratio.
      const spot = (angle: number, high: number) =>
        high *
        gauss(
          Math.hypot(p.x - centre.x - 0.7 * Math.cos(angle), p.y - centre.y - 0.7 * Math.sin(angle)) / 0.4,
        );
      const place = Math.max(spot(second, 1), spot(second + 2.5, 0.75));
      return Math.max(window, 0.6 * gauss((ratio - 1.45) / 0.08)) * place * along;
    }
    return window * gauss((r - 0.5) / 0.35) * along;
  };
  const best = bestInside(shape, onset, centre, kind);
  let last = { x: START.lateral_x_mm, y: START.lateral_y_mm, z: START.distance_mm };
  let side = { x: -1, y: -1, z: -1 };
  const sidesTo = (at: SettlePoint, fromBelow: boolean): typeof side => {
    if (fromBelow) return { x: -1, y: -1, z: -1 };
    const to = { x: at.lateral_x_mm, y: at.lateral_y_mm, z: at.distance_mm };
    const next = { ...side };
    for (const axis of ['x', 'y', 'z'] as const)
      if (to[axis] !== last[axis]) next[axis] = to[axis] > last[axis] ? -1 : 1;
    return next;
  };
  const play = kind === 'backlash' ? BACKLASH_MM / 2 : 0;
  const actual = (at: SettlePoint, sides: typeof side) => ({
    v: at.voltage_V,
    z: at.distance_mm + sides.z * play,
    x: at.lateral_x_mm + sides.x * play,
    y: at.lateral_y_mm + sides.y * play,
  });
  const steadyAt = (at: SettlePoint, t: number): boolean => {
    const ratio = at.voltage_V / onset(at.distance_mm, t);
    return ratio >= STEADY.low && ratio <= (kind === 'double ridge' ? 1.6 : STEADY.high);
  };
  let bubble = 0;
  return {
    kind,
    onsetFactor,
    steady: steadyAt,
    share: (at, t, fromBelow) => shape(actual(at, sidesTo(at, fromBelow)), t) / best,
    read: (at, t, fromBelow) => {
      side = sidesTo(at, fromBelow);
      last = { x: at.lateral_x_mm, y: at.lateral_y_mm, z: at.distance_mm };
      const steady = steadyAt(at, t);
      const sd = steady ? NOISE.steady : NOISE.unsteady;
      const true_ = Math.max(FLOOR, shape(actual(at, side), t));
      const seen = kind === 'saturation' ? (2 * true_) / (1 + true_) : true_;
      let level = seen * noise.factor(sd);
      const scatter = 100 * sd * noise.factor(0.2);
      if (kind === 'events') {
        if (bubble === 0 && noise.unit() < EVENT_CHANCE) bubble = 1 + noise.index(2);
        if (bubble > 0) {
          bubble--;
          level *= noise.between(0.02, 0.3);
          return { level: 1e6 * level, scatter_percent: scatter * noise.between(1, 4) };
        }
      }
      return { level: 1e6 * level, scatter_percent: scatter };
    },
  };
}

type Shape = (p: { v: number; z: number; x: number; y: number }, t: number) => number;

/** Highest level inside the box before any drift, by a walk over distance and voltage on the best lateral place. */
function bestInside(
  shape: Shape,
  onset: (z: number, t: number) => number,
  centre: { x: number; y: number },
  kind: Kind,
): number {
  let best = 0;
  const inside = (value: number) => Math.max(-2, Math.min(2, value));
  const radius = kind === 'double ridge' ? 0.7 : 0.5;
  for (let z = BOX.distance_mm.low; z <= BOX.distance_mm.high; z += 0.02) {
    const v = Math.min(BOX.voltage_V.high, Math.max(BOX.voltage_V.low, BEST_RATIO * onset(z, 0)));
    for (let k = 0; k < 72; k++) {
      const [x, y] = [
        inside(centre.x + radius * Math.cos((k * Math.PI) / 36)),
        inside(centre.y + radius * Math.sin((k * Math.PI) / 36)),
      ];
      best = Math.max(best, shape({ v, z, x, y }, 0));
    }
  }
  return best;
}

function gauss(s: number): number {
  return Math.exp((-s * s) / 2);
}
