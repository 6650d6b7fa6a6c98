export {
  type Belief,
  believe,
  type Catalogue,
  GROUP_CORRELATION,
} from './belief.ts';
export { FAULTS } from './faults/index.ts';
export { OUTSIDE_PRIOR, TWO_FAULTS_PRIOR } from './hypotheses.ts';
export { outcomesUnder, UNSAID_SHARE, WRONG_ANSWER_SHARE } from './likelihood.ts';
export { expectedBits, type NextTest, nextTests } from './next-test.ts';
export { OBSERVABLES } from './observables.ts';
export { type Moved, type RankedCause, type RankedCauses, rankCauses } from './rank-causes.ts';
export type { Action, Fault, Observable, Observation, Outcome, SafetyGate } from './types.ts';
