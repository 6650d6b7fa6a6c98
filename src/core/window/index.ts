export {
  DISTANCE_OVER_RADIUS_HIGH,
  DISTANCE_OVER_RADIUS_LOW,
  hyperboloidTipField,
  type OnsetInput,
  onsetClosed,
  SHAPE_FACTOR_LAST_DEG,
  shapeFactorOfTaper,
  TAYLOR_HALF_ANGLE_DEG,
} from './onset-closed.ts';
export { sparkVoltage } from './spark.ts';
