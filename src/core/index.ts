export * as causes from './causes/index.ts';
export * as constants from './constants.ts';
export { type Fault, type FaultKind, faultLine, InputError, inputError } from './errors.ts';
export {
  type Estimate,
  estimate,
  estimateFactor,
  estimateRelative,
  measured,
  powerProduct,
} from './estimate.ts';
export * from './feed/index.ts';
export * from './gradient/index.ts';
export * from './jet/index.ts';
export { type LiquidProperties, liquidProperties } from './liquid/index.ts';
export { type MeniscusInput, type MeniscusResult, meniscusOnset } from './meniscus/index.ts';
export * from './plan/index.ts';
export * from './setup.ts';
export * as units from './units.ts';
export * from './window/index.ts';
