import type { Hold } from './equilibrium.ts';

/**
 * A conducting liquid held by a circle of radius a (the contact line) on a conducting emitter that faces a plane at
 * zero. Every length is in units of a: for liquid that stays on the inner edge a is half the bore and rimRadius > 1;
 * for liquid that wets the face a is half the rim and rimRadius = 1; for a flooded shank a is half the shank,
 * rimRadius = 1 and taperHalfAngle = 0.
 */
export interface MeniscusInput {
  rimRadius: number;
  /** Against the axis [rad]; 0: a straight cylinder of the rim's radius, whatever the shank. */
  taperHalfAngle: number;
  shankRadius: number;
  /** Free length of the emitter behind its face. */
  length: number;
  /** From the rim face to the plane. */
  distance: number;
  hold: Hold;
  /** Voltages, in sqrt(gamma a / eps0), at which the outline is wanted. */
  shapesAt?: readonly number[];
  /** Members of the family to follow behind the maximum; default 2. */
  beyondTurn?: number;
  mesh?: MeshChoice;
}

/** `usual` is within 0.01 % of `fine` in the onset of common emitters, at a quarter of its time. */
export type MeshChoice = 'usual' | 'fine';
