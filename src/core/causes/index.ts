export {
  type Belief,
  believe,
  type Catalogue,
  GROUP_CORRELATION,
} from './belief.ts';
export { type Explanation, explain, explanationText, REGIME_IS_INFERENCE } from './causes-text.ts';
export { FAULTS } from './faults/index.ts';
export { GATE_STEPS, LOCAL_RULES, STOP_RULE } from './gates.ts';
export { type GuideHeading, guideHtml } from './guide-html.ts';
export { OUTSIDE_PRIOR, TWO_FAULTS_PRIOR } from './hypotheses.ts';
export { outcomesUnder, UNSAID_SHARE, WRONG_ANSWER_SHARE } from './likelihood.ts';
export { expectedBits, type NextTest, nextTests } from './next-test.ts';
export { OBSERVABLES } from './observables.ts';
export { gapVolume_nL, type PeriodInput, type PeriodMeaning, periodMeaning } from './period.ts';
export { type Moved, type RankedCause, type RankedCauses, rankCauses } from './rank-causes.ts';
export type { Action, Fault, Observable, Observation, Outcome, SafetyGate } from './types.ts';
