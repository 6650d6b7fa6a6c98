export type { CurrentSeen, FramesSeen, OlderRun, PlanSeen, RunContext } from './context.ts';
export {
  type Advice,
  CATALOGUE,
  type Explained,
  type ExplainInput,
  explainRun,
  findingsOf,
  type RunExplanation,
} from './explain-run.ts';
export { explainRunText } from './explain-text.ts';
export type { Finding, Missing } from './finding.ts';
