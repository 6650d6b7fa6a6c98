export {
  CONSENSUS_HIGH,
  CONSENSUS_LOW,
  currentConsensus,
  currentFdlm,
  currentGananCalvo,
  currentHartman,
} from './current.ts';
export { dropletDiameter, jetDiameter } from './droplet.ts';
export { MINIMUM_FLOW_HIGH, MINIMUM_FLOW_LOW, minimumFlow } from './minimum-flow.ts';
export { rayleighCharge, rayleighDiameter } from './rayleigh.ts';
export { type JetLiquid, type JetScales, jetScales } from './scales.ts';
