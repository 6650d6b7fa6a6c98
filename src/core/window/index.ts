export {
  type Belief,
  between,
  contactRadiusOf,
  DRAWS,
  factorOf,
  pressureOf,
  pressureOffset,
  priorBelief,
} from './belief.ts';
export { calibrated, LITTLE_SUPPORT, type ObservedAt, SIBLING_SPREAD, sibling } from './calibrate.ts';
export {
  bestVoltage,
  STATES,
  type State,
  stateOf,
  voltageGrid,
  type WindowChances,
  windowChances,
} from './chances.ts';
export { CORONA_INCEPTION, inceptionTension, ionisationIntegral } from './corona.ts';
export type { WindowDraws } from './draws.ts';
export { apexCurve, tipOf } from './likelihood.ts';
export { type Observation, REGIMES_SEEN, type RegimeSeen } from './observation.ts';
export {
  DISTANCE_OVER_RADIUS_HIGH,
  DISTANCE_OVER_RADIUS_LOW,
  hyperboloidTipField,
  onsetClosed,
  SHAPE_FACTOR_LAST_DEG,
  shapeFactorOfTaper,
  TAYLOR_HALF_ANGLE_DEG,
} from './onset-closed.ts';
export { sparkVoltage } from './spark.ts';
export { type TipOnset, tipFrom, tipOnset, unitOnset, withTip } from './tip-onset.ts';
export {
  type ContactPlace,
  FIRST_TASKS,
  radiusOf,
  solveTipTask,
  type TipAnswer,
  type TipGeometry,
  type TipTask,
  tipTasks,
} from './tip-solves.ts';
export { type Draws, UNKNOWNS, type Unknown } from './unknowns.ts';
export { conductivityFactor, type WindowCondition, windowDraws } from './window-draws.ts';
