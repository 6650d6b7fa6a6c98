export { capHeight, capVolume } from './check-input.ts';
export { type DeepBranch, type DeepBranchInput, deepBranch } from './deep-branch.ts';
export {
  apexCurvature,
  type Control,
  cap,
  type EquilibriumTask,
  type Hold,
  outlineOf,
  type ShapeState,
  voltageOf,
  volumeOf,
} from './equilibrium.ts';
export { type Family, type FamilyTask, followFamily, type Turn } from './family.ts';
export type { MeniscusInput, MeshChoice } from './input.ts';
export type { Member } from './member.ts';
export { type MeniscusMesh, meniscusMesh } from './mesh.ts';
export { type NewtonOutcome, solveEquilibrium } from './newton.ts';
export { meniscusOnset, type PlateInput, plateOnset } from './onset.ts';
export type {
  CurvePoint,
  MeniscusOnset,
  MeniscusResult,
  MeniscusShape,
  NoEquilibrium,
  SolverCost,
  SolverFailed,
} from './result.ts';
export { emitterAtVoltage, plateInField, type Surroundings } from './surroundings.ts';
