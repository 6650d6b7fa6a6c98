/**
 * Onset voltage of a meniscus pinned on an emitter facing a plane, closed form:
 * V = A sqrt(2 γ r cos αT/ε0) ln(4 d/r), αT = 49.29°, r the radius of the contact line, d the distance [m]; V in volt.
 * A is the shape factor: 0.5 is the pure hyperboloid; slender tapers were fitted to boundary-element onsets at feed
 * pressure 0 with the contact line on a sharp outer rim. A blunt wall outside the contact line raises the onset by up to
 * 72 % and a feed overpressure lowers it: outside the formula. Accuracy ±35 % blind.
 * Worked number: γ 0.033 N/m, r 10 µm, d 2 mm, A 0.5: 737 V.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';
import { DEG } from '../units.ts';

export const TAYLOR_HALF_ANGLE_DEG = 49.29009;

export interface OnsetInput {
  /** γ [N/m] */
  surfaceTension: number;
  /** r [m] */
  contactRadius: number;
  /** d [m] */
  distance: number;
  /** half-angle of the outer taper [°] */
  taperHalfAngle_deg: number;
}

export function onsetClosed(
  input: OnsetInput,
  shapeFactor = shapeFactorOfTaper(input.taperHalfAngle_deg),
): number {
  const { surfaceTension, contactRadius: r, distance } = input;
  const pull = Math.sqrt(
    (2 * surfaceTension * r * Math.cos(TAYLOR_HALF_ANGLE_DEG * DEG)) / VACUUM_PERMITTIVITY,
  );
  return shapeFactor * pull * Math.log((4 * distance) / r);
}

/** A of the taper by linear interpolation in the half-angle; held constant beyond 25°. */
export function shapeFactorOfTaper(halfAngle_deg: number): number {
  const last = SHAPE_FACTORS[SHAPE_FACTORS.length - 1]!;
  for (let i = 1; i < SHAPE_FACTORS.length; i++) {
    const [x0, y0] = SHAPE_FACTORS[i - 1]!;
    const [x1, y1] = SHAPE_FACTORS[i]!;
    if (halfAngle_deg <= x1) return y0 + ((y1 - y0) * (Math.max(halfAngle_deg, x0) - x0)) / (x1 - x0);
  }
  return last[1];
}

/** Half-angle [°], A: boundary-element onsets at d/r 400, shank 36 r, p = 0 (computed); straight wire d/r 400. */
const SHAPE_FACTORS: readonly (readonly [number, number])[] = [
  [0, 0.43],
  [3, 0.523],
  [5, 0.567],
  [8, 0.63],
  [15, 0.767],
  [25, 0.989],
];
export const SHAPE_FACTOR_LAST_DEG = 25;

/** d/r between which A was found constant within 4 %. */
export const DISTANCE_OVER_RADIUS_LOW = 50;
export const DISTANCE_OVER_RADIUS_HIGH = 2000;

/** Field at the tip of a hyperboloid facing a plane, E = 2 V/(r η0 L), exact. r tip radius [m], d gap [m]; per volt [1/m]. */
export function hyperboloidTipField(tipRadius: number, distance: number): number {
  const eta = 1 / Math.sqrt(1 + tipRadius / distance);
  return 2 / (tipRadius * eta * Math.log((1 + eta) / (1 - eta)));
}
