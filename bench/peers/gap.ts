/**
 * The gap that all programs solve: a hyperboloid tip at 1 V, a plane at 0 V. For finite elements the domain ends at
 * the confocal ellipsoid xi = 3, where the exact solution has no normal derivative, so that nothing is cut off.
 * Lengths in micrometres, fields in 1 / micrometre.
 */
export const TIP_RADIUS = 10;
export const DISTANCE = 3000;
export const OUTER_XI = 3;
const ETA = 1 / Math.sqrt(1 + TIP_RADIUS / DISTANCE);
/** Half the distance of the foci. */
export const FOCAL = DISTANCE / ETA;
export const TIP_ETA = ETA;
/** Exact for confocal hyperboloids: the potential depends on eta alone, V = atanh(eta) / atanh(eta0). */
export const EXACT_FIELD = 1 / (FOCAL * (1 - ETA * ETA) * Math.atanh(ETA));

export interface PeerRun {
  program: string;
  unknowns: number;
  /** Signed relative error of the apex field. */
  error: number;
  /** Whole process or processes [ms]. */
  cold: number;
  /** Assembly and solution inside the process [ms]. */
  solve: number;
}

/** How a mesh is graded: edges are `fineness` times (`core` plus the distance from the tip). */
export interface Grade {
  fineness: number;
  core: number;
}

/** A line of `length` graded from its start: number of edges n, and k of the law length * sinh(k t) / sinh(k). */
export function graded(length: number, grade: Grade): { n: number; k: number } {
  const growth = Math.log(1 + grade.fineness);
  const k = Math.asinh((growth * length) / (grade.fineness * grade.core));
  return { n: Math.max(4, Math.round(k / growth)), k };
}
