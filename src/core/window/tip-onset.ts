/**
 * Onset of one emitter at one distance, as a function of where the contact line sits and of the feed pressure, for unit
 * √γ: V = V*(place, P) √(γ a/ε0). The equilibrium is solved with the contact line on the inner edge, on the outer edge and
 * on the flooded shank at P = 0, and at P = ±0.75 where the set-up says it sits; between places ln V is linear in ln a,
 * in P a parabola of V (against direct solves: within 1.5 % for P −1 to 1.2, computed). A place that cannot be solved falls back on the closed
 * form and says so. Dimensionless: one emitter and distance serve every liquid.
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

export interface TipOnset {
  geometry: TipGeometry;
  /** Radius of the contact line at the stated place [m]. */
  radius: number;
  /** Onset of the stated place at P = 0, with its curve and shapes, or why there is none. */
  solved: MeniscusResult;
  /** Ascending radii [m] with ln of V/√γ at P = 0. */
  places: { place: ContactPlace; radius: number; ln: number; from: 'solver' | 'closed form' }[];
  /** V(P)/V(0) = 1 + linear P + square P². */
  pressure: { linear: number; square: number };
}

/** Places closer than this share one solve. */
const SAME_PLACE = 1.03;
const PRESSURE_STEP = 0.75;
/** V(P)/V(0) of a 10 µm contact on a 15 µm straight rim at P = ∓0.75 (computed): stands in where a solve fails. */
const USUAL_PRESSURE = { low: 1473.7 / 1166, high: 893 / 1166 };

/** Solved once for each geometry; the last ones are remembered, because a whole gradient and every drag of a voltage share one. */
export function tipOnset(geometry: TipGeometry): TipOnset {
  const key = JSON.stringify(geometry);
  const known = remembered.get(key);
  if (known !== undefined) return known;
  const fresh = solvedTip(geometry);
  if (remembered.size >= REMEMBERED) remembered.delete(remembered.keys().next().value!);
  remembered.set(key, fresh);
  return fresh;
}
const REMEMBERED = 32;
const remembered = new Map<string, TipOnset>();

function solvedTip(geometry: TipGeometry): TipOnset {
  const stated = radiusOf(geometry, geometry.place);
  const places: TipOnset['places'] = [];
  let solved: MeniscusResult | undefined;
  for (const place of ['inner edge', 'outer edge', 'flooded shank'] as const) {
    const radius = radiusOf(geometry, place);
    const twin = places.find((known) => radius < known.radius * SAME_PLACE);
    if (twin !== undefined && place !== geometry.place) continue;
    if (twin !== undefined) places.splice(places.indexOf(twin), 1);
    const answer = solveAt(geometry, place, 0);
    if (place === geometry.place) solved = answer;
    const found = answer.kind === 'onset';
    const volts = found ? unitVolts(answer, radius) : closedVolts(geometry, radius);
    places.push({ place, radius, ln: Math.log(volts), from: found ? 'solver' : 'closed form' });
  }
  places.sort((a, b) => a.radius - b.radius);
  return { geometry, radius: stated, solved: solved!, places, pressure: pressureLaw(geometry, solved!) };
}

/** V/√γ [V/(N/m)^½] for a contact line of this radius at this pressure (in γ/a). */
export function unitOnset({ places, pressure }: TipOnset, radius: number, P: number): number {
  const x = Math.log(radius);
  const first = places[0]!;
  let ln = first.ln + OUTSIDE_SLOPE * (x - Math.log(first.radius));
  for (const [k, place] of places.entries()) {
    const at = Math.log(place.radius);
    if (x < at) break;
    const next = places[k + 1];
    const slope = next ? (next.ln - place.ln) / (Math.log(next.radius) - at) : OUTSIDE_SLOPE;
    ln = place.ln + slope * (x - at);
  }
  const factor = 1 + pressure.linear * P + pressure.square * P * P;
  return Math.exp(ln) * Math.max(LEAST_PRESSURE_FACTOR, factor);
}

/** V ∝ √a beyond the outermost places. */
const OUTSIDE_SLOPE = 0.5;
/** The onset vanishes only at P = 2; the parabola is not followed below this. */
const LEAST_PRESSURE_FACTOR = 0.2;

export function radiusOf({ boreRadius, rimRadius, shankRadius }: TipGeometry, place: ContactPlace): number {
  if (place === 'inner edge') return boreRadius;
  return place === 'outer edge' ? rimRadius : Math.max(shankRadius, rimRadius);
}

function solveAt(geometry: TipGeometry, place: ContactPlace, pressure: number): MeniscusResult {
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
    });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { kind: 'solver failed', reason: error.message.split('\n')[0]!, at: { height: 0, V: 0 } };
  }
}

function unitVolts({ V_star }: MeniscusOnset, radius: number): number {
  return V_star * Math.sqrt(radius / VACUUM_PERMITTIVITY);
}

function closedVolts({ distance, taper, place }: TipGeometry, radius: number): number {
  return onsetClosed({
    surfaceTension: 1,
    contactRadius: radius,
    distance: Math.max(distance, radius),
    taperHalfAngle_deg: place === 'flooded shank' ? 0 : (taper * 180) / Math.PI,
  });
}

function pressureLaw(geometry: TipGeometry, at0: MeniscusResult): TipOnset['pressure'] {
  const ratio = (P: number, usual: number): number => {
    if (at0.kind !== 'onset') return usual;
    const answer = solveAt(geometry, geometry.place, P);
    return answer.kind === 'onset' ? answer.V_star / at0.V_star : usual;
  };
  const low = ratio(-PRESSURE_STEP, USUAL_PRESSURE.low);
  const high = ratio(PRESSURE_STEP, USUAL_PRESSURE.high);
  return {
    linear: (high - low) / (2 * PRESSURE_STEP),
    square: (high + low - 2) / (2 * PRESSURE_STEP * PRESSURE_STEP),
  };
}
