/** A belief put into a ranking that a person can check: causes, what moved them, and what the evidence cannot decide. */
import { type Belief, groupWeight, hypothesisLikelihoods, observableOf } from './belief.ts';
import type { Observable } from './types.ts';

export interface RankedCauses {
  /** Every fault of the catalogue, most likely first; `probability` counts it alone. */
  causes: RankedCause[];
  /** Something that is not in the catalogue. */
  outside: number;
  /** Two faults at once, all pairs together. With `outside` and the causes it adds to 1. */
  two_faults: number;
  likeliest_pairs: { faults: [string, string]; probability: number }[];
  /** What each answer did, strongest first. */
  why: Moved[];
  /** Whether the first cause may be named, and the sentence that says so. */
  decided: boolean;
  sentence: string;
  remarks: string[];
}

export interface RankedCause {
  fault: string;
  name: string;
  /** This fault alone. */
  probability: number;
  /** This fault alone or together with another. */
  present: number;
}

export interface Moved {
  observable: string;
  question: string;
  answer: string;
  /** log2 of how much likelier the answer is under the first cause than under the second. */
  bits_first_over_second: number;
  /** log2 of how much likelier the answer is under the first cause than in the catalogue's mean. */
  bits_first_over_rest: number;
}

/** Below this the first cause is a suspicion; a cause that leads by less than the factor is not told from the next. Judgement. */
const NAMED_FROM = 0.5;
const LEADS_BY = 2;
const PAIRS_SHOWN = 3;
/** From here an answer stands without its belief. */
const SURE_ANSWER = 0.95;
/** Above these the odd hypotheses are spoken of. Judgement. */
const OUTSIDE_SPOKEN = 0.25;
const PAIRS_SPOKEN = 0.3;

export function rankCauses(belief: Belief): RankedCauses {
  const { hypotheses, posterior } = belief;
  const { faults, pairs } = hypotheses;
  const present = posterior.slice(0, faults.length);
  pairs.forEach(([i, j], k) => {
    present[i]! += posterior[faults.length + 1 + k]!;
    present[j]! += posterior[faults.length + 1 + k]!;
  });
  const causes = faults
    .map((fault, i) => ({
      fault: fault.id,
      name: fault.name,
      probability: posterior[i]!,
      present: present[i]!,
    }))
    .sort((a, b) => b.probability - a.probability);
  const outside = posterior[faults.length]!;
  const pairBelief = pairs.map(([i, j], k) => ({
    faults: [faults[i]!.id, faults[j]!.id] as [string, string],
    probability: posterior[faults.length + 1 + k]!,
  }));
  const two_faults = pairBelief.reduce((sum, { probability }) => sum + probability, 0);
  const likeliest_pairs = pairBelief.sort((a, b) => b.probability - a.probability).slice(0, PAIRS_SHOWN);
  const [first, second] = [causes[0]!, causes[1]!];
  const decided = first.probability >= NAMED_FROM && first.probability >= LEADS_BY * second.probability;
  return {
    causes,
    outside,
    two_faults,
    likeliest_pairs,
    why: moves(belief, first.fault, second.fault),
    decided,
    sentence: verdict(belief, first, second, decided),
    remarks: [...belief.remarks, ...oddities(outside, two_faults)],
  };
}

function verdict(belief: Belief, first: RankedCause, second: RankedCause, decided: boolean): string {
  if (belief.answers.size === 0)
    return 'Nothing was observed: the order below is only how often each fault is met.';
  const p = percent(first.probability);
  if (decided) return `Most likely: ${first.name} (${p}).`;
  return `Cannot be decided from this: ${first.name} (${p}) leads, ${second.name} (${percent(second.probability)}) is next.`;
}

function oddities(outside: number, twoFaults: number): string[] {
  const said: string[] = [];
  if (outside > OUTSIDE_SPOKEN)
    said.push(`No fault of the catalogue fits well: something else is ${percent(outside)} likely.`);
  if (twoFaults > PAIRS_SPOKEN)
    said.push(`Two faults at once are ${percent(twoFaults)} likely: cure one, then look again.`);
  return said;
}

function moves({ catalogue, hypotheses, answers }: Belief, first: string, second: string): Moved[] {
  const index = (id: string) => hypotheses.faults.findIndex((fault) => fault.id === id);
  const [a, b] = [index(first), index(second)];
  return [...answers]
    .map(([id, answer]) => {
      const observable = observableOf(catalogue, id);
      const likelihood = hypothesisLikelihoods(hypotheses, observable, answer);
      const weight = groupWeight(catalogue, answers.keys(), observable.group);
      const mean =
        hypotheses.faults.reduce((sum, _, i) => sum + likelihood[i]!, 0) / hypotheses.faults.length;
      return {
        observable: id,
        question: observable.question,
        answer: answerWords(observable, answer),
        bits_first_over_second: weight * Math.log2(likelihood[a]! / likelihood[b]!),
        bits_first_over_rest: weight * Math.log2(likelihood[a]! / mean),
      };
    })
    .sort((x, y) => Math.abs(y.bits_first_over_rest) - Math.abs(x.bits_first_over_rest));
}

/** The likeliest answer, and how far it is believed where it is not sure. */
function answerWords({ outcomes }: Observable, answer: Float64Array): string {
  const most = Math.max(...answer);
  const words = outcomes[answer.indexOf(most)]!.words;
  return most < SURE_ANSWER ? `${words} (believed to ${percent(most)})` : words;
}

function percent(p: number): string {
  return `${Math.round(100 * p)} %`;
}
