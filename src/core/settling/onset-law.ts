/**
 * Onset of this emitter against distance, V_on(d; u), with u = ln of the effective contact radius over the assumed one:
 * V_on = V0(d) e^{u/2} ln(4d/(R e^u))/ln(4d/R). V0 comes from the plan (solved meniscus at several distances) or from the closed
 * form √(2Rγ cos 49.3°/ε0)/2 · ln(4d/R). A wrong V0 by any constant factor is another u. Breaks where d comes near R.
 * Worked number: R 45 µm, γ 0.036 N/m, d 3 mm, u 0: 1364 V.
 */
import { MM, MN_M, UM } from '../units.ts';
import { onsetClosed } from '../window/index.ts';
import type { SettleSession } from './session.ts';

export interface OnsetLaw {
  /** ln V_on at a distance [mm] and time [min] for u = 0. */
  base(distance_mm: number, time_min: number): number;
  /** ln(4d/R). */
  logGap(distance_mm: number): number;
}

/** What a radius shift u adds to ln V_on where ln(4d/R) is `logGap`. */
export function radiusShift(logGap: number, u: number): number {
  return u / 2 + Math.log(Math.max(LEAST_LOG, logGap - u) / logGap);
}

export function radiusSlope(logGap: number, u: number): number {
  return 0.5 - (logGap - u > LEAST_LOG ? 1 / (logGap - u) : 0);
}

/** Taken where nothing was stated: a wetted rim of a common nanoflow emitter and a half-organic liquid. Judgement, and wide. */
export const USUAL_TIP = { radius_um: 45, surface_tension_mN_m: 36 } as const;
/** Shape of the closed form: a pure hyperboloid. */
const HYPERBOLOID = 0.5;
/** The logarithm is not followed closer than this to the tip. */
const LEAST_LOG = 1;

export function onsetLaw(session: Pick<SettleSession, 'onset' | 'onset_course'>): OnsetLaw {
  const { radius_um, surface_tension_mN_m, rows } = session.onset ?? { ...USUAL_TIP, rows: undefined };
  const radius = radius_um * UM;
  const base = (distance_mm: number): number =>
    rows !== undefined && rows.length > 0
      ? alongRows(rows, distance_mm)
      : Math.log(
          onsetClosed(
            {
              surfaceTension: surface_tension_mN_m * MN_M,
              contactRadius: radius,
              distance: Math.max(distance_mm * MM, radius),
              taperHalfAngle_deg: 0,
            },
            HYPERBOLOID,
          ),
        );
  const course = session.onset_course ?? [];
  return {
    base: (distance_mm, time_min) => base(distance_mm) + lnFactorAt(course, time_min),
    logGap: (distance_mm) => Math.max(LEAST_LOG, Math.log((4 * distance_mm * MM) / radius)),
  };
}

/** ln V is linear in ln d between the rows and beyond them. */
function alongRows(rows: readonly { distance_mm: number; onset_V: number }[], distance_mm: number): number {
  const x = Math.log(distance_mm);
  let k = 1;
  while (k < rows.length - 1 && Math.log(rows[k]!.distance_mm) < x) k++;
  const a = rows[k - 1]!;
  const b = rows[k];
  if (b === undefined) return Math.log(a.onset_V);
  const share = (x - Math.log(a.distance_mm)) / Math.log(b.distance_mm / a.distance_mm);
  return Math.log(a.onset_V) + share * Math.log(b.onset_V / a.onset_V);
}

function lnFactorAt(course: readonly { time_min: number; factor: number }[], time_min: number): number {
  const last = course.at(-1);
  if (last === undefined) return 0;
  const k = course.findIndex((row) => row.time_min > time_min);
  if (k === 0) return Math.log(course[0]!.factor);
  if (k < 0) return Math.log(last.factor);
  const [a, b] = [course[k - 1]!, course[k]!];
  const share = (time_min - a.time_min) / (b.time_min - a.time_min);
  return Math.log(a.factor) + share * Math.log(b.factor / a.factor);
}
