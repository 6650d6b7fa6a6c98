export { clippingOf, looksReversed } from './checks.ts';
export { comparePlan, expectedCurrent, expectedPulsation } from './compare-plan.ts';
export { currentCsv, currentReadingText } from './current-out.ts';
export { currentPicture } from './current-picture.ts';
export type {
  CurrentEvent,
  CurrentEventKind,
  CurrentReading,
  PlanComparison,
  RegimeStretch,
  RegimeWindow,
} from './current-reading.ts';
export { flowPicture } from './flow-picture.ts';
export { type FlowPoint, type FlowWalk, readFlowWalk } from './flow-walk.ts';
export { chargeText, currentText, regimeLabel, regimeName } from './labels.ts';
export { flowSteps, typedMarks, voltageSteps } from './number-table.ts';
export { type ReadCurrentOptions, readCurrent } from './read-current.ts';
export {
  type FlowStep,
  flowTold,
  type ResistorTold,
  readWalks,
  resistorTold,
  surfaceTensionOf,
  voltageTold,
  type WalksRead,
  type WalksTold,
  windowOfWalks,
} from './read-walks.ts';
export {
  type ExpectedCurrent,
  REGIMES,
  type Regime,
  type RegimeContext,
  type RegimeProbabilities,
  regimeOf,
} from './regimes.ts';
export { behindResistor, type ResistorReading, resistorReading } from './resistor.ts';
export { staircasePicture } from './staircase-picture.ts';
export { type TraceTold, traceContext } from './trace-context.ts';
export { type TracePass, type TracePassOptions, tracePass } from './trace-pass.ts';
export type { CurrentStep } from './voltage-step.ts';
export type { BestStep, CurrentSweep } from './voltage-sweep.ts';
export { readVoltageWalk, type VoltageWalk, type VoltageWalkOptions } from './voltage-walk.ts';
export type { PlannedWindow } from './walk-against-plan.ts';
export { walkSteps, withWalk } from './walk-events.ts';
export { flowWalkCsv, flowWalkText, observationsYaml, voltageWalkCsv, voltageWalkText } from './walk-text.ts';
