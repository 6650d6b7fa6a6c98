export { type AlongGradientInput, alongGradient } from './along-gradient.ts';
export { COMPOSITION_STEP_PERCENT, drawsAlong } from './draws-along.ts';
export type {
  Band,
  DelayPiece,
  FixedFailure,
  FixedSupply,
  GradientDelay,
  GradientPart,
  GradientPlan,
  GradientRisk,
  OpenBand,
  PartSpan,
  RampStep,
  SprayState,
  StateProbabilities,
  SupplyRamp,
  TipDelay,
  WalkPoint,
} from './gradient-plan.ts';
export { SPRAY_STATES } from './gradient-plan.ts';
export { gradientCsv, gradientText } from './gradient-text.ts';
export { rampCsv } from './supply-ramp.ts';
export { tipComposition } from './tip-composition.ts';
export { tipDelay } from './tip-delay.ts';
