/**
 * The equilibria that a tip's onset rests on, one by one, so that a page can spread them over threads: each place of the
 * contact line at no pressure, and the stated place at P = ±0.75 γ/a. A place that the solver does not take says so.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';
import { InputError } from '../errors.ts';
import { type MeniscusOnset, type MeniscusResult, meniscusOnset } from '../meniscus/index.ts';
import { onsetClosed } from './onset-closed.ts';

export type ContactPlace = 'inner edge' | 'outer edge' | 'flooded shank';

/** SI lengths. */
export interface TipGeometry {
  boreRadius: number;
  rimRadius: number;
  /** [rad] */
  taper: number;
  shankRadius: number;
  length: number;
  distance: number;
  place: ContactPlace;
}

/** Places closer than this share one solve. */
const SAME_PLACE = 1.03;
/** [γ/a] */
export const PRESSURE_STEP = 0.75;

/** One of the equilibria that a tip's onset rests on: a place of the contact line and a pressure [γ/a]. */
export interface TipTask {
  place: ContactPlace;
  pressure: number;
}

export interface TipAnswer {
  task: TipTask;
  result: MeniscusResult;
}

/** The stated place first, which gives the shape; then the other edge, which makes a first estimate; the rest refines it. */
export function tipTasks(geometry: TipGeometry): TipTask[] {
  const stated = geometry.place;
  const apart = placesOf(geometry);
  const others = (['outer edge', 'inner edge', 'flooded shank'] as const).filter(
    (place) => place !== stated && apart.includes(place),
  );
  return [
    { place: stated, pressure: 0 },
    ...others.map((place) => ({ place, pressure: 0 })),
    { place: stated, pressure: -PRESSURE_STEP },
    { place: stated, pressure: PRESSURE_STEP },
  ];
}

/**
 * So many first tasks make a first estimate: onset and edges of seven emitters then lay within 1.5 % and 2 % of the whole answer
 * (computed); the best voltage, the top of a flat hill, moved by up to 20 % and has to wait.
 */
export const FIRST_TASKS = 2;

export function solveTipTask(geometry: TipGeometry, { place, pressure }: TipTask): MeniscusResult {
  // Only the stated place is drawn, and only its drawing needs members past the turn.
  const drawn = place === geometry.place && pressure === 0;
  return solveAt(geometry, place, pressure, drawn ? undefined : 0);
}

/** Places apart from each other; of two that share one solve the stated one stands. */
export function placesOf(geometry: TipGeometry): ContactPlace[] {
  const kept: ContactPlace[] = [];
  for (const place of ['inner edge', 'outer edge', 'flooded shank'] as const) {
    const radius = radiusOf(geometry, place);
    const twin = kept.findIndex((known) => radius < radiusOf(geometry, known) * SAME_PLACE);
    if (twin !== -1 && place !== geometry.place) continue;
    if (twin !== -1) kept.splice(twin, 1);
    kept.push(place);
  }
  return kept;
}

export function radiusOf({ boreRadius, rimRadius, shankRadius }: TipGeometry, place: ContactPlace): number {
  if (place === 'inner edge') return boreRadius;
  return place === 'outer edge' ? rimRadius : Math.max(shankRadius, rimRadius);
}

function solveAt(
  geometry: TipGeometry,
  place: ContactPlace,
  pressure: number,
  beyondTurn: number | undefined,
): MeniscusResult {
  const a = radiusOf(geometry, place);
  const b = place === 'inner edge' ? geometry.rimRadius / a : 1;
  const straight = place === 'flooded shank';
  try {
    return meniscusOnset({
      rimRadius: b,
      taperHalfAngle: straight ? 0 : geometry.taper,
      shankRadius: straight ? 1 : Math.max(geometry.shankRadius, geometry.rimRadius) / a,
      length: geometry.length / a,
      distance: geometry.distance / a,
      hold: { kind: 'pressure', pressure },
      ...(beyondTurn === undefined ? {} : { beyondTurn }),
    });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { kind: 'solver failed', reason: error.message.split('\n')[0]!, at: { height: 0, V: 0 } };
  }
}

/** V/√γ [V/(N/m)^½]. */
export function unitVolts({ V_star }: MeniscusOnset, radius: number): number {
  return V_star * Math.sqrt(radius / VACUUM_PERMITTIVITY);
}

export function closedVolts({ distance, taper, place }: TipGeometry, radius: number): number {
  return onsetClosed({
    surfaceTension: 1,
    contactRadius: radius,
    distance: Math.max(distance, radius),
    taperHalfAngle_deg: place === 'flooded shank' ? 0 : (taper * 180) / Math.PI,
  });
}
