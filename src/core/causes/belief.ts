/**
 * Belief over the hypotheses after some observations: log-likelihoods added, answers to one question from several places
 * counted once (their mean), and answers of one group tempered by 1/(1 + (n − 1) ρ), because they share what made that
 * measurement right or wrong. Pure Bayes beyond that; the catalogue's weights are judgement.
 */
import { inputError } from '../errors.ts';
import { type Hypotheses, hypothesesOf } from './hypotheses.ts';
import { outcomeTable, touches } from './likelihood.ts';
import { type Fault, type Observable, type Observation, SEPARATE_GROUPS } from './types.ts';

/** Correlation of the log-likelihoods of two answers of one group. Judgement. */
export const GROUP_CORRELATION = 0.3;

export interface Catalogue {
  faults: readonly Fault[];
  observables: readonly Observable[];
}

export interface Belief {
  catalogue: Catalogue;
  hypotheses: Hypotheses;
  /** In the order of `hypotheses.prior`; adds to 1. */
  posterior: Float64Array;
  /** One answer for each question that was answered: belief over its outcomes, adds to 1. */
  answers: ReadonlyMap<string, Float64Array>;
  /** Sentences on answers that contradict each other. */
  remarks: string[];
}

export function believe(
  catalogue: Catalogue,
  observations: readonly Observation[],
  history: Readonly<Record<string, number>> = {},
): Belief {
  const hypotheses = hypothesesOf(catalogue.faults, history);
  const { answers, remarks } = answersOf(catalogue, observations);
  const logs = hypotheses.prior.map(Math.log);
  for (const [id, answer] of answers) {
    const observable = observableOf(catalogue, id);
    const weight = groupWeight(catalogue, answers.keys(), observable.group);
    const likelihood = hypothesisLikelihoods(hypotheses, observable, answer);
    for (let h = 0; h < logs.length; h++) logs[h]! += weight * Math.log(likelihood[h]!);
  }
  return { catalogue, hypotheses, posterior: normalised(logs), answers, remarks };
}

/** P(answer | hypothesis) for faults, outside and pairs. */
export function hypothesisLikelihoods(
  { faults, pairs, prior }: Hypotheses,
  observable: Observable,
  answer: Float64Array,
): Float64Array {
  const rows = outcomeTable(faults, observable);
  const of = (row: Float64Array) => row.reduce((sum, p, k) => sum + p * answer[k]!, 0);
  const single = rows.map(of);
  const touched = faults.map((fault) => touches(fault, observable.id));
  const out = new Float64Array(prior.length);
  single.forEach((p, h) => {
    out[h] = p;
  });
  pairs.forEach(([i, j], k) => {
    const both = touched[i] === touched[j];
    out[single.length + k] = both ? (single[i]! + single[j]!) / 2 : touched[i] ? single[i]! : single[j]!;
  });
  return out;
}

/** 1/(1 + (n − 1) ρ) for the n questions of one measurement that were answered; 1 where each is a measurement of its own. */
export function groupWeight({ observables }: Catalogue, answered: Iterable<string>, group: string): number {
  if (SEPARATE_GROUPS.some((separate) => separate === group)) return 1;
  let n = 0;
  for (const id of answered) if (observables.some((o) => o.id === id && o.group === group)) n++;
  return 1 / (1 + Math.max(0, n - 1) * GROUP_CORRELATION);
}

export function observableOf({ observables }: Catalogue, id: string): Observable {
  const found = observables.find((observable) => observable.id === id);
  if (found === undefined) throw inputError('unknown', 'observable', id, 'an observable of the catalogue');
  return found;
}

export function normalised(logs: Float64Array): Float64Array {
  const top = logs.reduce((most, log) => Math.max(most, log), Number.NEGATIVE_INFINITY);
  const raw = logs.map((log) => Math.exp(log - top));
  const total = raw.reduce((sum, p) => sum + p, 0);
  return raw.map((p) => p / total);
}

function answersOf(
  catalogue: Catalogue,
  observations: readonly Observation[],
): { answers: Map<string, Float64Array>; remarks: string[] } {
  const given = new Map<string, Map<string, Float64Array>>();
  for (const { observable: id, outcome, from } of observations) {
    const observable = observableOf(catalogue, id);
    const places = given.get(id) ?? new Map<string, Float64Array>();
    places.set(from, outcomeBelief(observable, outcome));
    given.set(id, places);
  }
  const answers = new Map<string, Float64Array>();
  const remarks: string[] = [];
  for (const [id, places] of given) {
    const observable = observableOf(catalogue, id);
    const all = [...places.values()];
    const mean = new Float64Array(observable.outcomes.length);
    for (const one of all) for (let k = 0; k < mean.length; k++) mean[k]! += one[k]! / all.length;
    answers.set(id, mean);
    if (new Set(all.map(likeliest)).size > 1)
      remarks.push(
        `"${observable.question}" has answers that contradict each other (from ${[...places.keys()].join(', ')}): they count as undecided.`,
      );
  }
  return { answers, remarks };
}

function outcomeBelief(observable: Observable, outcome: Observation['outcome']): Float64Array {
  const known = observable.outcomes.map(({ id }) => id);
  const given = typeof outcome === 'string' ? { [outcome]: 1 } : outcome;
  for (const [id, share] of Object.entries(given)) {
    if (!known.includes(id))
      throw inputError('unknown', `answer to ${observable.id}`, id, `one of ${known.join(', ')}`);
    if (!(share >= 0 && Number.isFinite(share)))
      throw inputError('out of range', `belief in ${id}`, `${share}`, '0 or more');
  }
  const raw = known.map((id) => given[id] ?? 0);
  const total = raw.reduce((sum, share) => sum + share, 0);
  if (total === 0)
    throw inputError('missing', `answer to ${observable.id}`, '', `one of ${known.join(', ')}`);
  return Float64Array.from(raw, (share) => share / total);
}

function likeliest(belief: Float64Array): number {
  return belief.indexOf(Math.max(...belief));
}
