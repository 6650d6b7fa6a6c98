export { type EmitterMesh, type EmitterProfile, emitterPanels } from './emitter-panels.ts';
export { type Grading, gradedBreaks } from './graded-breaks.ts';
export { type LayerMatrices, layerMatrices } from './layer.ts';
export {
  joinPanels,
  type MeridianPoint,
  type Panels,
  panelsOfNodes,
  panelsOnCurve,
  panelsOnLine,
} from './panels.ts';
export {
  type HyperboloidProfile,
  hyperboloidPanels,
  type SpheroidProfile,
  spherePanels,
  spheroidPanels,
} from './profiles.ts';
export { type ReferencePanel, referencePanel } from './reference-panel.ts';
export { type ConductorField, solveField } from './solve-field.ts';
