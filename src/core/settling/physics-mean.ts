/**
 * What a log level is expected to be, before the readings bend it: a ridge in V/V_on(distance), a ring about the inlet's axis
 * (a zero radius is a plain spot), a log-normal in distance, and a broad optimum of the angle:
 * m = A − ½((ρ−ρ0)/w)² − ½((r−r0)/wr)² − ½(ln(z/z0)/wz)² − ½((α−α0)/wα)², ρ = V/V_on(z; u) e^(−drift).
 * Judgement throughout (widths from simulated plumes): the readings must be able to overrule it, see `family.ts`.
 */
import { type OnsetLaw, radiusShift, radiusSlope } from './onset-law.ts';
import type { SettlePoint } from './session.ts';

/** A place and a moment: mm, degrees, minutes. */
export interface Place {
  /** ln V/V_on for no radius shift and no drift. */
  c: number;
  /** ln of the distance in mm. */
  lnZ: number;
  /** ln(4d/R). */
  gap: number;
  x: number;
  y: number;
  angle: number;
  t: number;
}

export function placeOf(law: OnsetLaw, at: SettlePoint, t: number): Place {
  return {
    c: Math.log(Math.max(1, at.voltage_V)) - law.base(at.distance_mm, t),
    lnZ: Math.log(at.distance_mm),
    gap: law.logGap(at.distance_mm),
    x: at.lateral_x_mm,
    y: at.lateral_y_mm,
    angle: at.angle_deg,
    t,
  };
}

export const PARAMETERS = [
  'level',
  'ln radius',
  'ratio',
  'ln ratio width',
  'centre x',
  'centre y',
  'ring radius',
  'ln ring width',
  'ln distance',
  'ln distance width',
  'drift',
  'angle',
] as const;
export const COUNT = PARAMETERS.length;
export type Parameter = (typeof PARAMETERS)[number];

/** Which terms take part: those of axes that move. */
export interface Terms {
  ridge: boolean;
  ring: boolean;
  distance: boolean;
  angle: boolean;
}

/** ln V_on drifts by θ[drift] in this time. */
export const DRIFT_TIME_MIN = 30;
const ANGLE_WIDTH_DEG = 25;
/** Keeps the ring's radius smooth at its centre [mm]. */
const CENTRE_SOFTNESS_MM = 0.02;

/** V/V_on as the parameters see it. */
export function ratioAt(theta: ArrayLike<number>, place: Place): number {
  return Math.exp(place.c - radiusShift(place.gap, theta[1]!) - (theta[10]! * place.t) / DRIFT_TIME_MIN);
}

/** The voltage that stands at this V/V_on of the parameters: the ridge where none is given. */
export function ridgeVoltage(
  law: OnsetLaw,
  theta: ArrayLike<number>,
  distance_mm: number,
  now: number,
  ratio = theta[2]!,
): number {
  const ln =
    law.base(distance_mm, now) +
    radiusShift(law.logGap(distance_mm), theta[1]!) +
    (theta[10]! * now) / DRIFT_TIME_MIN;
  return Math.exp(ln) * ratio;
}

/** The mean; its gradient into `gradient` where given. */
export function physicsMean(
  terms: Terms,
  theta: ArrayLike<number>,
  place: Place,
  gradient?: Float64Array,
): number {
  let mean = 0;
  if (gradient) {
    gradient.fill(0);
    gradient[0] = 1;
  }
  if (terms.ridge) {
    const ratio = ratioAt(theta, place);
    const width = Math.exp(theta[3]!);
    const s = (ratio - theta[2]!) / width;
    mean -= (s * s) / 2;
    if (gradient) {
      const byRatio = -s / width;
      gradient[1] = -byRatio * ratio * radiusSlope(place.gap, theta[1]!);
      gradient[2] = -byRatio;
      gradient[3] = s * s;
      gradient[10] = (-byRatio * ratio * place.t) / DRIFT_TIME_MIN;
    }
  }
  if (terms.ring) {
    const [dx, dy] = [place.x - theta[4]!, place.y - theta[5]!];
    const r = Math.sqrt(dx * dx + dy * dy + CENTRE_SOFTNESS_MM * CENTRE_SOFTNESS_MM);
    const width = Math.exp(theta[7]!);
    const s = (r - theta[6]!) / width;
    mean -= (s * s) / 2;
    if (gradient) {
      const byRadius = -s / width;
      gradient[4] = (-byRadius * dx) / r;
      gradient[5] = (-byRadius * dy) / r;
      gradient[6] = -byRadius;
      gradient[7] = s * s;
    }
  }
  if (terms.distance) {
    const width = Math.exp(theta[9]!);
    const s = (place.lnZ - theta[8]!) / width;
    mean -= (s * s) / 2;
    if (gradient) {
      gradient[8] = s / width;
      gradient[9] = s * s;
    }
  }
  if (terms.angle) {
    const s = (place.angle - theta[11]!) / ANGLE_WIDTH_DEG;
    mean -= (s * s) / 2;
    if (gradient) gradient[11] = s / ANGLE_WIDTH_DEG;
  }
  return floored(theta[0]!, mean, gradient);
}

/** Far off the ridge a background remains: ln(e^−q + e^−FLOOR). */
function floored(level: number, below: number, gradient: Float64Array | undefined): number {
  const signal = Math.exp(below);
  const share = signal / (signal + BACKGROUND);
  if (gradient) for (let i = 1; i < COUNT; i++) gradient[i]! *= share;
  return level + Math.log(signal + BACKGROUND);
}
const BACKGROUND = Math.exp(-9);
