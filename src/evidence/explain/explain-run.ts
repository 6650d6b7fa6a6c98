/**
 * Joins what a run, the plan, the bench, a current trace, frames and the person say into one explanation. Each question is
 * answered once for the machine side (the better placed source wins), and the person's own answer stands beside it.
 */
import {
  type Belief,
  believe,
  type Explanation,
  explain,
  FAULTS,
  type Fault,
  OBSERVABLES,
  type Observation,
} from '../../core/causes/index.ts';
import { inputError } from '../../core/errors.ts';
import type { CurrentSeen, FramesSeen, PlanSeen, RunContext } from './context.ts';
import type { Finding, Missing } from './finding.ts';
import { historyFindings } from './history-findings.ts';
import { ionFindings } from './ion-findings.ts';
import { levelFindings, OLDER_LEAST } from './level-findings.ts';
import { decidingEvents } from './main-group.ts';
import { planFindings } from './plan-findings.ts';
import { currentFindings, framesFindings } from './trace-findings.ts';
import { variationFindings } from './variation-findings.ts';

export const CATALOGUE = { faults: FAULTS, observables: OBSERVABLES };

export interface ExplainInput {
  /** The person's answers: question → answer. */
  answers?: readonly { observable: string; outcome: string }[] | undefined;
  /** Questions the person cannot answer. */
  cannot?: readonly string[] | undefined;
  run?: RunContext | undefined;
  plan?: PlanSeen | undefined;
  current?: CurrentSeen | undefined;
  frames?: FramesSeen | undefined;
}

export interface RunExplanation extends Explanation {
  /** What the measurements say, one for each question they answer. */
  findings: Finding[];
  /** Everything that was believed: findings and the person's answers. */
  observations: Observation[];
  missing: Missing[];
  cannot: string[];
  /** Said where the run itself shows nothing wrong; null otherwise. */
  nothing_wrong: string | null;
  /** What to do about the first causes. */
  advice: Advice[];
}

/** What the explanation rests on beside the person's answers, by name. */
export interface Explained extends RunExplanation {
  /** The kept reading and the name of its run; null where only answers were given. */
  reading_id: string | null;
  file: string | null;
  /** The queue whose earlier runs were compared with, and their number. */
  emitter: string | null;
  earlier_runs: number;
  invented: boolean;
}

export interface Advice extends Pick<Fault, 'name' | 'actions' | 'numbers' | 'sources'> {
  fault: string;
  probability: number;
  settle: boolean;
  lookAlikes: { name: string; words: string }[];
}

/** Causes that come with their actions. */
const ADVISED = 3;

export function explainRun(input: ExplainInput): RunExplanation {
  const findings = findingsOf(input);
  const cannot = (input.cannot ?? []).map((id) => known(id).id);
  const answers = (input.answers ?? []).map(({ observable, outcome }) => ({
    observable: known(observable).id,
    outcome,
    from: 'asked',
  }));
  const observations: Observation[] = [...findings, ...answers];
  const belief = believe(CATALOGUE, observations);
  const explanation = explain(belief, cannot);
  return {
    ...explanation,
    findings,
    observations: observations.map(({ observable, outcome, from }) => ({ observable, outcome, from })),
    missing: missingOf(input, belief),
    cannot,
    nothing_wrong: nothingWrong(input.run, findings),
    advice: explanation.ranked.causes
      .slice(0, ADVISED)
      .map(({ fault, probability }) => advice(fault, probability)),
  };
}

/** One answer for each question: of two sources the later in this list is the better placed. */
export function findingsOf({ run, plan, current, frames }: ExplainInput): Finding[] {
  const all = [
    ...(run
      ? [...levelFindings(run), ...variationFindings(run), ...ionFindings(run), ...historyFindings(run)]
      : []),
    ...(plan ? planFindings(plan) : []),
    ...(current ? currentFindings(current) : []),
    ...(frames ? framesFindings(frames) : []),
  ];
  return [...new Map(all.map((one) => [one.observable, one])).values()];
}

function missingOf({ run, plan, current, frames }: ExplainInput, { answers }: Belief): Missing[] {
  const missing: Missing[] = [];
  const lacks = (observable: string, sentence: string) => {
    if (!answers.has(observable)) missing.push({ observable, sentence });
  };
  if (run && (run.older ?? []).length < OLDER_LEAST)
    lacks(
      'level',
      `Whether the level is this emitter's usual one: fewer than ${OLDER_LEAST} earlier runs of it are on the bench. Read them as a queue under its name.`,
    );
  if (run) for (const line of run.reading.lacks) lacks('background', line);
  if (!plan) lacks('plan-voltage', 'Voltage and flow against the plan: no set-up was given.');
  else if (plan.setup.voltage.supply_V === undefined)
    lacks('plan-voltage', 'Voltage against the window: the set-up states no supply voltage.');
  lacks('pressure', 'The pump pressure: it is in no run file, look at its trace.');
  if (!current)
    lacks('current', 'The spray current: read a nanoampere meter. It tells tip from position at once.');
  if (!frames) lacks('meniscus', 'The tip itself: look through the microscope, door shut.');
  return missing;
}

function nothingWrong(run: RunContext | undefined, findings: readonly Finding[]): string | null {
  if (run === undefined || run.reading.stability.grade !== 'steady' || decidingEvents(run.reading).length > 0)
    return null;
  const odd = ['level', 'scatter', 'trend', 'fill'].some((id) => {
    const found = findings.find(({ observable }) => observable === id);
    const usual = id === 'trend' ? 'none' : 'usual';
    return found !== undefined && typeof found.outcome !== 'string' && leads(found.outcome) !== usual;
  });
  return odd
    ? null
    : `${run.from} shows a steady spray: nothing in it needs a cause. If something troubles you that no run file shows, answer the questions.`;
}

function leads(belief: Readonly<Record<string, number>>): string | undefined {
  return Object.entries(belief).sort((a, b) => b[1] - a[1])[0]?.[0];
}

function advice(id: string, probability: number): Advice {
  const fault = FAULTS.find((one) => one.id === id)!;
  const { name, actions, numbers, sources, lookAlikes, settle } = fault;
  return {
    fault: id,
    name,
    probability,
    actions,
    numbers,
    sources,
    settle: settle === true,
    lookAlikes: lookAlikes.map((other) => ({
      name: FAULTS.find((one) => one.id === other.fault)?.name ?? other.fault,
      words: other.words,
    })),
  };
}

function known(id: string) {
  const found = OBSERVABLES.find((one) => one.id === id);
  if (found === undefined)
    throw inputError(
      'unknown',
      'question',
      id.slice(0, 60),
      'one that `steadycone explain --list` names, for example level=lower',
    );
  return found;
}
