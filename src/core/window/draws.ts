/**
 * What a set of draws of the unknowns says of the window at one condition (liquid, flow, distance). Draw i of every
 * condition belongs to the same imagined emitter, so statements over a whole gradient count draws that hold throughout.
 */
export interface WindowDraws {
  /** Number of draws; every array has this length. Weights are equal: calibration resamples. */
  count: number;
  /** Tip voltage of first ejection, going up [V]. */
  onset_V: Float64Array;
  /** Tip voltage from which the cone-jet is steady, going up [V]. */
  steady_from_V: Float64Array;
  /** Tip voltage down to which a standing cone-jet survives, going down [V]. */
  steady_down_to_V: Float64Array;
  /** Tip voltage from which the jet tilts or is unsteady [V]. */
  tilt_from_V: Float64Array;
  /** Tip voltage from which there are several jets [V]. */
  several_from_V: Float64Array;
  /** Tip voltage from which corona or a spark is expected [V]; Infinity where none is reached. */
  discharge_from_V: Float64Array;
  /** Current at 1.2 times onset [A]. */
  current_A: Float64Array;
  /** Least flow of a steady cone-jet [m3/s]. */
  minimum_flow_m3_s: Float64Array;
  /** Resistance of the liquid between contact and tip [ohm]; 0 for contact at the tip. */
  resistance_ohm: Float64Array;
}
