/**
 * How well the reasoning names causes, beside an ideal reasoner that knows each case's own likelihoods, and beside the most
 * that can be had from the catalogue's likelihoods, which no reasoner without that knowledge can pass. Cases are seeded and
 * synthetic: likelihoods drawn afresh around the catalogue's (factor 2), 10 % of the answers wrong, 30 % missing, one case in
 * ten from outside the catalogue and one in twenty with two faults. This measures the reasoning; cases drawn from the
 * catalogue cannot prove the catalogue right.
 */
import {
  believe,
  FAULTS,
  nextTests,
  OBSERVABLES,
  type Observation,
  outcomesUnder,
} from '../src/core/causes/index.ts';
import { type RandomStream, randomStream } from '../src/core/random.ts';

const CASES = Number(process.env.CASES ?? 400);
const SEED = 404;
const WRONG = 0.1;
const MISSING = 0.3;
const OUTSIDE = 0.1;
const PAIRS = 0.05;
const FACTOR_SD = Math.log(2);
const COUNTS = [1, 3, 6] as const;
const MOST_TESTS = 40;
/** Beliefs at which a person would act. */
const SURE = [0.5, 0.7, 0.9] as const;
const CATALOGUE = { faults: FAULTS, observables: OBSERVABLES };
const OUT = FAULTS.length;

interface Case {
  truth: number[];
  /** P(outcome | fault) of this case's world, [fault][observable][outcome]. */
  world: Float64Array[][];
  /** Answer to each observable, undefined where it cannot be seen. */
  answers: (number | undefined)[];
}

const random = randomStream(SEED, 'cases');
/** One stream for each question: a new question of the catalogue leaves the answers to the others as they were. */
const streams = OBSERVABLES.map((o) => randomStream(SEED, `question ${o.id}`));
const catalogueTables = FAULTS.map((fault) => OBSERVABLES.map((o) => outcomesUnder(fault, o)));
const priors = FAULTS.map(({ prior }) => prior);
const cases = Array.from({ length: CASES }, () => draw(random));

for (const count of COUNTS) report(count);
testsUntilSure();

function draw(r: RandomStream): Case {
  const world = FAULTS.map((fault) =>
    OBSERVABLES.map((o, k) =>
      normalise(outcomesUnder(fault, o).map((p) => p * streams[k]!.factor(FACTOR_SD))),
    ),
  );
  const kind = r.unit();
  const one = pick(r, priors);
  let truth = [one];
  if (kind < OUTSIDE) truth = [OUT];
  else if (kind < OUTSIDE + PAIRS)
    truth = [
      one,
      pick(
        r,
        priors.map((p, i) => (i === one ? 0 : p)),
      ),
    ];
  const answers = OBSERVABLES.map((o, k) => {
    const q = streams[k]!;
    const strange = Float64Array.from(o.outcomes, () => -Math.log(1 - q.unit()));
    const table = truth[0] === OUT ? normalise(strange) : shown(world, truth, k);
    const right = pick(q, [...table]);
    const answer = q.unit() < WRONG ? q.index(o.outcomes.length) : right;
    return q.unit() < MISSING ? undefined : answer;
  });
  return { truth, world, answers };
}

/** Two faults: the one that touches the observable shows, or the mean of both. */
function shown(world: Float64Array[][], truth: readonly number[], k: number): Float64Array {
  const touching = truth.filter((i) => FAULTS[i]!.signs[OBSERVABLES[k]!.id] !== undefined);
  const rows = (touching.length > 0 ? touching : truth).map((i) => world[i]![k]!);
  return rows[0]!.map((_, outcome) => rows.reduce((sum, row) => sum + row[outcome]!, 0) / rows.length);
}

/** The first `count` answers in the order the next-test rule asks. */
function gathered(one: Case, count: number): Observation[] {
  const observations: Observation[] = [];
  const cannot: string[] = [];
  while (observations.length < count) {
    const next = nextTests(believe(CATALOGUE, observations), cannot)[0];
    if (next === undefined) break;
    take(one, next.observable, observations, cannot);
  }
  return observations;
}

function take(one: Case, id: string, observations: Observation[], cannot: string[]): void {
  const k = OBSERVABLES.findIndex((o) => o.id === id);
  const answer = one.answers[k];
  if (answer === undefined) cannot.push(id);
  else observations.push({ observable: id, outcome: OBSERVABLES[k]!.outcomes[answer]!.id, from: 'case' });
}

/** Beliefs over the faults and 'outside': each fault alone or together with another. */
function ours(observations: readonly Observation[]): Float64Array {
  const { posterior, hypotheses } = believe(CATALOGUE, observations);
  const belief = posterior.slice(0, OUT + 1);
  hypotheses.pairs.forEach(([i, j], p) => {
    belief[i]! += posterior[OUT + 1 + p]!;
    belief[j]! += posterior[OUT + 1 + p]!;
  });
  return belief;
}

/**
 * Knows the true shares of wrong answers and outside cases, not the truth. With the case's own tables: the ideal reasoner.
 * With the catalogue's tables: what any reasoner can reach at most that has only the catalogue.
 */
function exact(tables: readonly Float64Array[][], observations: readonly Observation[]): Float64Array {
  const total = priors.reduce((sum, p) => sum + p, 0);
  const belief = Float64Array.from([...priors.map((p) => ((1 - OUTSIDE) * p) / total), OUTSIDE]);
  for (const { observable, outcome } of observations) {
    const k = OBSERVABLES.findIndex((o) => o.id === observable);
    const outcomes = OBSERVABLES[k]!.outcomes;
    const answer = outcomes.findIndex(({ id }) => id === outcome);
    for (let i = 0; i < OUT; i++)
      belief[i]! *= (1 - WRONG) * tables[i]![k]![answer]! + WRONG / outcomes.length;
    belief[OUT]! /= outcomes.length;
  }
  return normalise(belief);
}

function report(count: number): void {
  const rows = cases.map((one) => ({ one, observations: gathered(one, count) }));
  const print = (name: string, belief: (row: (typeof rows)[number]) => Float64Array, confusions: boolean) => {
    let first = 0;
    let three = 0;
    let brier = 0;
    const bins = Array.from({ length: 5 }, () => ({ n: 0, said: 0, hit: 0 }));
    const wrong = new Map<string, number>();
    for (const row of rows) {
      const p = belief(row);
      const order = [...p.keys()].sort((a, b) => p[b]! - p[a]!);
      const { truth } = row.one;
      const hit = truth.includes(order[0]!);
      first += Number(hit);
      three += Number(order.slice(0, 3).some((i) => truth.includes(i)));
      brier += p.reduce((sum, q, i) => sum + (q - (truth.includes(i) ? 1 / truth.length : 0)) ** 2, 0);
      const bin = bins[Math.min(4, Math.floor(p[order[0]!]! * 5))]!;
      bin.n++;
      bin.said += p[order[0]!]!;
      bin.hit += Number(hit);
      if (!hit && truth.length === 1) {
        const key = `${nameOf(truth[0]!)} read as ${nameOf(order[0]!)}`;
        wrong.set(key, (wrong.get(key) ?? 0) + 1);
      }
    }
    const n = rows.length;
    write(
      `${count} answers, ${name}: first ${pc(first / n)}, among three ${pc(three / n)}, Brier ${(brier / n).toFixed(3)}`,
    );
    write(
      `  said/right by belief: ${bins
        .filter((b) => b.n > 0)
        .map((b) => `${pc(b.said / b.n)}/${pc(b.hit / b.n)} (${b.n})`)
        .join('  ')}`,
    );
    if (confusions) {
      write('  hardest:');
      for (const [key, times] of [...wrong].sort((a, b) => b[1] - a[1]).slice(0, 12))
        write(`    ${times} × ${key}`);
    }
  };
  print('ours', ({ observations }) => ours(observations), count === 6);
  print('most from the catalogue', ({ observations }) => exact(catalogueTables, observations), false);
  print('ideal', ({ one, observations }) => exact(one.world, observations), false);
}

/** Tests asked (also those that cannot be seen) until one fault or 'outside' holds so much of our belief. */
function testsUntilSure(): void {
  const key = ['level', 'scatter', 'current', 'pressure'];
  const cheapest = [...OBSERVABLES].sort((a, b) => a.minutes - b.minutes).map(({ id }) => id);
  const keyed = [...key, ...cheapest.filter((id) => !key.includes(id))];
  const listed = OBSERVABLES.map(({ id }) => id);
  const fixed = (order: readonly string[]) => (_: Observation[], asked: readonly string[]) =>
    order.find((id) => !asked.includes(id));
  const policies: [
    string,
    (o: Observation[], asked: readonly string[], cannot: readonly string[]) => string | undefined,
  ][] = [
    ['next test', (o, _, cannot) => nextTests(believe(CATALOGUE, o), cannot)[0]?.observable],
    ['catalogue order', fixed(listed)],
    ['key, then cheapest', fixed(keyed)],
  ];
  for (const [name, policy] of policies) {
    const reached = SURE.map(() => ({ tests: [] as number[], minutes: [] as number[] }));
    const some = cases.slice(0, Math.ceil(CASES / 2));
    for (const one of some) {
      const observations: Observation[] = [];
      const cannot: string[] = [];
      const asked: string[] = [];
      let time = 0;
      let held = 0;
      while (held < SURE.length) {
        const belief = Math.max(...ours(observations));
        while (held < SURE.length && belief >= SURE[held]!) {
          reached[held]!.tests.push(asked.length);
          reached[held]!.minutes.push(time);
          held++;
        }
        const id = asked.length < MOST_TESTS ? policy(observations, asked, cannot) : undefined;
        if (held === SURE.length || id === undefined) break;
        asked.push(id);
        time += OBSERVABLES.find((o) => o.id === id)!.minutes;
        take(one, id, observations, cannot);
      }
    }
    SURE.forEach((belief, k) => {
      const { tests, minutes } = reached[k]!;
      write(
        `until ${pc(belief)} belief, ${name}: reached in ${pc(tests.length / some.length)}, quarter of the cases after ${part(tests, some.length)} tests and ${part(minutes, some.length)} min`,
      );
    });
  }
}

/** The value that a quarter of all cases do not pass; cases that never come there stand at the end. */
function part(reached: readonly number[], all: number): string {
  const sorted = [...reached].sort((x, y) => x - y);
  return `${sorted[Math.ceil(all / 4) - 1] ?? 'never so many'}`;
}

function pick(r: RandomStream, weights: readonly number[]): number {
  let left = r.unit() * weights.reduce((sum, w) => sum + w, 0);
  for (const [i, w] of weights.entries()) {
    left -= w;
    if (left < 0) return i;
  }
  return weights.length - 1;
}

function normalise(p: Float64Array): Float64Array {
  const total = p.reduce((sum, x) => sum + x, 0);
  return p.map((x) => x / total);
}

function nameOf(i: number): string {
  return FAULTS[i]?.id ?? 'outside';
}

function pc(share: number): string {
  return `${Math.round(100 * share)} %`;
}

function write(line: string): void {
  process.stdout.write(`${line}\n`);
}
