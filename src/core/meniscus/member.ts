import type { ShapeState } from './equilibrium.ts';

/** One member of a family of equilibria, found at the value `at` of the quantity that the family is followed by. */
export interface Member {
  readonly at: number;
  readonly state: ShapeState;
  /** Normal field at the nodes for unit drive. */
  readonly e: Float64Array;
  readonly updates: number;
}
