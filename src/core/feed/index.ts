export { type Electrolysis, electrolysis } from './electrolysis.ts';
export { straightResistance, taperedResistance } from './hydraulic.ts';
export {
  type LiquidPiece,
  liquidResistance,
  loadCurrent,
  reachFromTip,
  type SprayLoad,
  supplyFor,
  tipVoltage,
} from './ohmic.ts';
