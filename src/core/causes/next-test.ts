/**
 * The next question to answer: the expected fall of the entropy over all hypotheses for each minute it takes, H(h) −
 * Σ_k P(k) H(h | k) in bits. What needs a safe state first costs that time too, so looking comes before touching;
 * a question costs a minute of attention besides, so that a quick one which tells little does not come first.
 */
import { type Belief, groupWeight, hypothesisLikelihoods } from './belief.ts';
import type { Observable, SafetyGate } from './types.ts';

export interface NextTest {
  observable: string;
  question: string;
  how: string;
  gate: SafetyGate;
  minutes: number;
  /** Expected information [bit]. */
  bits: number;
  bits_per_minute: number;
  /** The two likeliest causes it would tell apart, where it does. */
  separates: [string, string] | null;
}

/** Minutes that a safe state takes before and after. Judgement. */
const GATE_MINUTES: Record<SafetyGate, number> = {
  none: 0,
  knob: 0.5,
  raise: 1,
  'hands off power': 4,
  'pressure off': 10,
};
/** Any question costs this much beside its own minutes: to read it, to turn to it, to say it. Judgement. */
const QUESTION_MINUTES = 1;
/** No test is advised that teaches less. Judgement. */
const LEAST_BITS = 0.02;
/** An answer separates two causes when it is this much likelier under one, for some outcome. Judgement. */
const SEPARATES_BY = 2;

/** Best first. `cannot`: questions the person said cannot be seen. */
export function nextTests(belief: Belief, cannot: readonly string[] = []): NextTest[] {
  const { catalogue, answers } = belief;
  return catalogue.observables
    .filter(({ id }) => !answers.has(id) && !cannot.includes(id))
    .map((observable) => testOf(belief, observable))
    .filter(({ bits }) => bits >= LEAST_BITS)
    .sort((a, b) => b.bits_per_minute - a.bits_per_minute);
}

/** Expected information of one question [bit]. */
export function expectedBits(belief: Belief, observable: Observable): number {
  const { catalogue, hypotheses, posterior, answers } = belief;
  const weight = groupWeight(catalogue, [...answers.keys(), observable.id], observable.group);
  const before = entropy(posterior);
  const columns = observable.outcomes.map((_, k) => {
    const answer = new Float64Array(observable.outcomes.length);
    answer[k] = 1;
    return hypothesisLikelihoods(hypotheses, observable, answer).map((p) => p ** weight);
  });
  // Tempered likelihoods no longer add to 1 over the outcomes: each hypothesis is normalised again.
  const totals = posterior.map((_, h) => columns.reduce((sum, column) => sum + column[h]!, 0));
  let after = 0;
  for (const column of columns) {
    const joint = posterior.map((p, h) => (p * column[h]!) / totals[h]!);
    const share = joint.reduce((sum, p) => sum + p, 0);
    if (share > 0) after += share * entropy(joint.map((p) => p / share));
  }
  return Math.max(0, before - after);
}

function testOf(belief: Belief, observable: Observable): NextTest {
  const bits = expectedBits(belief, observable);
  const { id, question, how, gate, minutes } = observable;
  const bits_per_minute = bits / (QUESTION_MINUTES + minutes + GATE_MINUTES[gate]);
  return {
    observable: id,
    question,
    how,
    gate,
    minutes,
    bits,
    bits_per_minute,
    separates: separated(belief, observable),
  };
}

function separated({ hypotheses, posterior }: Belief, observable: Observable): [string, string] | null {
  const { faults } = hypotheses;
  const order = faults.map((_, i) => i).sort((a, b) => posterior[b]! - posterior[a]!);
  const [a, b] = [order[0]!, order[1]!];
  const tells = observable.outcomes.some((_, k) => {
    const answer = new Float64Array(observable.outcomes.length);
    answer[k] = 1;
    const likelihood = hypothesisLikelihoods(hypotheses, observable, answer);
    const ratio = likelihood[a]! / likelihood[b]!;
    return ratio > SEPARATES_BY || ratio < 1 / SEPARATES_BY;
  });
  return tells ? [faults[a]!.name, faults[b]!.name] : null;
}

function entropy(p: Float64Array): number {
  let sum = 0;
  for (const share of p) if (share > 0) sum -= share * Math.log2(share);
  return sum;
}
