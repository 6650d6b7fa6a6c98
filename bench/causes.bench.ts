/**
 * How well the reasoning names causes, beside the ideal reasoner (exact Bayes on how the cases are made, seeing what anybody sees)
 * and beside one that was told each case's own redrawn likelihoods, which no observation shows. Cases are seeded and
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
const SEED = Number(process.env.CAUSES_SEED ?? 404);
/** `ranking` leaves the number of tests until a belief out. */
const PART = process.env.CAUSES_PART;
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

const MEAN_DRAWS = 300;
const meanTables = catalogueTables.map((row) => row.map(meanTable));
const PAIRED = FAULTS.flatMap((_, i) => FAULTS.slice(i + 1).map((__, j) => [i, i + 1 + j] as const));
const PAIR_PRIORS = [
  ...normalise(Float64Array.from(priors)).map((p) => (1 - OUTSIDE - PAIRS) * p),
  OUTSIDE,
  ...normalise(Float64Array.from(PAIRED, ([i, j]) => priors[i]! * priors[j]!)).map((p) => PAIRS * p),
];
const rows = cases.map((one) => ({ one, asked: gathered(one, COUNTS.at(-1)!) }));
for (const count of COUNTS) report(count);
if (PART !== 'ranking') testsUntilSure();

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
 * Exact Bayes with the cases' true shares of wrong answers, outside cases and pairs. With the case's own tables: a reasoner that was
 * told how this case's likelihoods were redrawn, which no observation shows. With the redrawn tables' mean: the best that can be
 * done with the catalogue, and the ideal reasoner that sees what anybody sees.
 */
function exact(tables: readonly Float64Array[][], observations: readonly Observation[]): Float64Array {
  const logs = Float64Array.from(PAIR_PRIORS, Math.log);
  for (const { observable, outcome } of observations) {
    const k = OBSERVABLES.findIndex((o) => o.id === observable);
    const { outcomes } = OBSERVABLES[k]!;
    const answer = outcomes.findIndex(({ id }) => id === outcome);
    const shares = FAULTS.map((_, i) => tables[i]![k]![answer]!);
    const log = (p: number) => Math.log((1 - WRONG) * p + WRONG / outcomes.length);
    for (let i = 0; i < OUT; i++) logs[i]! += log(shares[i]!);
    logs[OUT]! += Math.log(1 / outcomes.length);
    for (const [q, [i, j]] of PAIRED.entries()) {
      const [a, b] = [FAULTS[i]!.signs[observable], FAULTS[j]!.signs[observable]];
      const mixed = (shares[i]! + shares[j]!) / 2;
      const p = (a === undefined) === (b === undefined) ? mixed : shares[a === undefined ? j : i]!;
      logs[OUT + 1 + q]! += log(p);
    }
  }
  const top = logs.reduce((most, x) => Math.max(most, x), Number.NEGATIVE_INFINITY);
  const all = normalise(logs.map((x) => Math.exp(x - top)));
  const belief = all.slice(0, OUT + 1);
  for (const [q, [i, j]] of PAIRED.entries()) {
    belief[i]! += all[OUT + 1 + q]!;
    belief[j]! += all[OUT + 1 + q]!;
  }
  return belief;
}

/** The mean of a row's redrawn shares: what a redrawn world says on average. */
function meanTable(table: Float64Array, k: number): Float64Array {
  const r = randomStream(SEED, `mean of ${k}`);
  const mean = new Float64Array(table.length);
  for (let n = 0; n < MEAN_DRAWS; n++)
    for (const [i, p] of normalise(table.map((x) => x * r.factor(FACTOR_SD))).entries())
      mean[i]! += p / MEAN_DRAWS;
  return mean;
}

function report(count: number): void {
  const shown = rows.map(({ one, asked }) => ({ one, observations: asked.slice(0, count) }));
  const print = (
    name: string,
    belief: (row: (typeof shown)[number]) => Float64Array,
    confusions: boolean,
  ) => {
    let first = 0;
    let three = 0;
    let brier = 0;
    const bins = Array.from({ length: 5 }, () => ({ n: 0, said: 0, hit: 0 }));
    const wrong = new Map<string, number>();
    for (const row of shown) {
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
    const n = shown.length;
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
  print('ideal', ({ observations }) => exact(meanTables, observations), false);
  print('told how the case was redrawn', ({ one, observations }) => exact(one.world, observations), false);
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
