/**
 * What the solver can answer. The three kinds are never confused: `no equilibrium` is a statement of physics that holds
 * whatever the mesh, `solver failed` says nothing about the emitter.
 */
export type MeniscusResult = MeniscusOnset | NoEquilibrium | SolverFailed;

export interface NoEquilibrium {
  kind: 'no equilibrium';
  reason: string;
}

export interface SolverFailed {
  kind: 'solver failed';
  reason: string;
  /** The last shape that was found. */
  at: { height: number; V: number };
}

/** Lengths in contact-line radii a, voltages in sqrt(gamma a / eps0), fields in sqrt(gamma / (a eps0)), pressures in gamma / a. */
export interface MeniscusOnset {
  kind: 'onset';
  /** Greatest voltage with an equilibrium on the family that starts without voltage. */
  V_star: number;
  apexHeight: number;
  /**
   * What rises with the voltage: the apex, or, of a small held volume on a sharp edge, a ring at the edge. Of a ring only
   * round shapes are followed; one that breaks up into several points around the edge would start below this voltage.
   */
  rises: 'apex' | 'edge';
  /** Field at the apex, and the same for unit voltage (so that apexField = apexFieldFactor V_star). */
  apexField: number;
  apexFieldFactor: number;
  apexCurvature: number;
  pressure: number;
  volume: number;
  /** Angle of the surface below the horizontal at the contact line [rad]. */
  edgeAngle: number;
  /** Smallest half angle of the surface against the axis [rad]. */
  halfAngle: number;
  /** From zero voltage through the maximum. */
  curve: CurvePoint[];
  /** Outline of each point of `curve`, then nothing else; see `atVoltage` for the voltages asked. */
  shapes: MeniscusShape[];
  /** Outline at the maximum. */
  onsetShape: MeniscusShape;
  /** Outlines at the voltages asked for, on the branch below the maximum; voltages above it are left out. */
  atVoltage: MeniscusShape[];
  cost: SolverCost;
}

export interface CurvePoint {
  H: number;
  V: number;
  /** Curvature at the apex. */
  kappa: number;
}

/** Outline from the apex (0, H) to the contact line (1, 0). */
export interface MeniscusShape extends CurvePoint {
  r: number[];
  z: number[];
}

export interface SolverCost {
  meniscusNodes: number;
  emitterNodes: number;
  /** Equilibria solved, and Newton updates over all of them. */
  shapes: number;
  updates: number;
}
