/**
 * Onset of the hidden tip over distance and radius of the contact line. The equilibrium is solved for the tip at the set-up's
 * distance (all places and the pressure law, core/window) and, where the distance is turned, at the nearest two of a few
 * distances for the stated place alone; between them ln V is linear in ln d (within 0.13 % of direct solves from 1 to 8 mm, computed).
 * A contact line past the outermost place follows √a. Solves are remembered for each geometry.
 */

import { type MeniscusShapes, meniscusShapes } from '../../core/plan/index.ts';
import { DEG, MM, UM } from '../../core/units.ts';
import {
  solveTipTask,
  type TipGeometry,
  type TipOnset,
  tipOnset,
  unitOnset,
} from '../../core/window/index.ts';
import type { BenchTruth } from './truth.ts';

export interface TipOver {
  geometry: TipGeometry;
  /** Solved at the set-up's distance. */
  tip: TipOnset;
  /** Onset [V] for a contact radius [m], distance [m] and surface tension [N/m]. */
  onset(radius: number, distance: number, surfaceTension: number): number;
  /** The solved family at the sound contact line; undefined where the solver failed. */
  shapes: MeniscusShapes | undefined;
}

/** Distances that are solved when the tip comes between them [m]. */
const KNOTS = [0.8, 1.25, 2, 3, 4.5, 7, 11].map((mm) => mm * MM);

export function tipOver(truth: BenchTruth): TipOver {
  const { emitter, inlet } = truth.setup;
  const geometry: TipGeometry = {
    boreRadius: Math.min((emitter.bore_um * UM) / 2, 0.98 * truth.rimRadius),
    rimRadius: truth.rimRadius,
    taper: emitter.taper_half_angle_deg * DEG,
    shankRadius: (emitter.shank_diameter_um * UM) / 2,
    length: emitter.free_length_mm * MM,
    distance: inlet.distance_mm * MM,
    place: emitter.wets === 'bore' ? 'inner edge' : 'outer edge',
  };
  const tip = tipOnset(geometry);
  const solved = tip.solved.kind === 'onset' ? tip.solved.V_star : undefined;
  const factors = new Map<number, number>();
  // V*(distance)/V*(set-up's distance) of the stated place.
  const factorAt = (distance: number): number => {
    const known = factors.get(distance);
    if (known !== undefined) return known;
    const answer = solveTipTask({ ...geometry, distance }, { place: geometry.place, pressure: 0 });
    const law = Math.log((4 * distance) / tip.radius) / Math.log((4 * geometry.distance) / tip.radius);
    const factor = solved !== undefined && answer.kind === 'onset' ? answer.V_star / solved : law;
    factors.set(distance, factor);
    return factor;
  };
  const distanceFactor = (distance: number): number => {
    if (Math.abs(distance - geometry.distance) < SAME_DISTANCE) return 1;
    const held = Math.min(KNOTS.at(-1)!, Math.max(KNOTS[0]!, distance));
    const above = Math.max(
      1,
      KNOTS.findIndex((knot) => knot >= held),
    );
    const [low, high] = [KNOTS[above - 1]!, KNOTS[above]!];
    const share = Math.log(held / low) / Math.log(high / low);
    return Math.exp((1 - share) * Math.log(factorAt(low)) + share * Math.log(factorAt(high)));
  };
  return {
    geometry,
    tip,
    shapes: meniscusShapes(tip, truth.liquid.surfaceTension),
    onset: (radius, distance, surfaceTension) =>
      unitOnset(tip, radius, truth.pressure) *
      Math.sqrt(surfaceTension) *
      truth.onsetFactor *
      distanceFactor(distance),
  };
}

/** [m] */
const SAME_DISTANCE = 1e-6;
