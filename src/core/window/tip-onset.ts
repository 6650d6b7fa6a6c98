/**
 * Onset of one emitter at one distance, as a function of where the contact line sits and of the feed pressure, for unit
 * √γ: V = V*(place, P) √(γ a/ε0). The equilibrium is solved with the contact line on the inner edge, on the outer edge and
 * on the flooded shank at P = 0, and at P = ±0.75 where the set-up says it sits; between places ln V is linear in ln a,
 * in P a parabola of V (against direct solves: within 1.5 % for P −1 to 1.2, computed). A place that cannot be solved falls back on the closed
 * form and says so. Dimensionless: one emitter and distance serve every liquid.
 */
import type { MeniscusResult } from '../meniscus/index.ts';
import {
  type ContactPlace,
  closedVolts,
  PRESSURE_STEP,
  placesOf,
  radiusOf,
  solveTipTask,
  type TipAnswer,
  type TipGeometry,
  tipTasks,
  unitVolts,
} from './tip-solves.ts';

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

/** V(P)/V(0) of a 10 µm contact on a 15 µm straight rim at P = ∓0.75 (computed): stands in where a solve fails. */
const USUAL_PRESSURE = { low: 1473.7 / 1166, high: 893 / 1166 };

/** Solved once for each geometry; the last ones are remembered, because a whole gradient and every drag of a voltage share one. */
export function tipOnset(geometry: TipGeometry): TipOnset {
  const key = JSON.stringify(geometry);
  const known = remembered.get(key);
  if (known !== undefined) return known;
  const fresh = solvedTip(geometry);
  remember(key, fresh);
  return fresh;
}
function remember(key: string, tip: TipOnset): void {
  if (remembered.size >= REMEMBERED) remembered.delete(remembered.keys().next().value!);
  remembered.set(key, tip);
}
const REMEMBERED = 32;
const remembered = new Map<string, TipOnset>();

/**
 * The onset from the answers that there are; the first task must be among them. A place without its answer is taken from the
 * closed formula, scaled so that it meets the stated place's solve; a pressure without one from the usual law.
 */
export function tipFrom(geometry: TipGeometry, answers: readonly TipAnswer[]): TipOnset {
  const answerTo = (place: ContactPlace, pressure: number) =>
    answers.find(({ task }) => task.place === place && task.pressure === pressure)?.result;
  const solved = answerTo(geometry.place, 0);
  if (solved === undefined) throw new Error('missing tip answer: the stated place is not solved');
  const radius = radiusOf(geometry, geometry.place);
  const scale = solved.kind === 'onset' ? unitVolts(solved, radius) / closedVolts(geometry, radius) : 1;
  const places = placesOf(geometry).map((place): TipOnset['places'][number] => {
    const at = radiusOf(geometry, place);
    const answer = answerTo(place, 0);
    if (answer?.kind === 'onset')
      return { place, radius: at, ln: Math.log(unitVolts(answer, at)), from: 'solver' };
    const volts = closedVolts(geometry, at) * (answer === undefined ? scale : 1);
    return { place, radius: at, ln: Math.log(volts), from: 'closed form' };
  });
  places.sort((a, b) => a.radius - b.radius);
  const pressure = pressureLaw(solved, (P) => answerTo(geometry.place, P));
  return { geometry, radius, solved, places, pressure };
}

/** What is computed meanwhile takes this onset for the geometry's own; an incomplete one is not remembered after it. */
export function withTip<T>(tip: TipOnset, complete: boolean, use: () => T): T {
  const key = JSON.stringify(tip.geometry);
  remember(key, tip);
  try {
    return use();
  } finally {
    if (!complete) remembered.delete(key);
  }
}

function solvedTip(geometry: TipGeometry): TipOnset {
  const answers: TipAnswer[] = [];
  for (const task of tipTasks(geometry)) {
    if (task.pressure !== 0 && answers[0]?.result.kind !== 'onset') continue;
    answers.push({ task, result: solveTipTask(geometry, task) });
  }
  return tipFrom(geometry, answers);
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

function pressureLaw(
  at0: MeniscusResult,
  answerAt: (P: number) => MeniscusResult | undefined,
): TipOnset['pressure'] {
  const ratio = (P: number, usual: number): number => {
    const answer = at0.kind === 'onset' ? answerAt(P) : undefined;
    return at0.kind === 'onset' && answer?.kind === 'onset' ? answer.V_star / at0.V_star : usual;
  };
  const low = ratio(-PRESSURE_STEP, USUAL_PRESSURE.low);
  const high = ratio(PRESSURE_STEP, USUAL_PRESSURE.high);
  return {
    linear: (high - low) / (2 * PRESSURE_STEP),
    square: (high + low - 2) / (2 * PRESSURE_STEP * PRESSURE_STEP),
  };
}
