/**
 * Readings, and minutes, until a recommendation is within 5 % of the best and stays so for five readings running, on invented hidden
 * sources: the search beside one factor at a time, a simplex, a simplex in V/V_on and a plain Gaussian process. Sources of the
 * matched kind share the search's form: an upper bound of its benefit, not a measurement of it. Under drift: mean share of the
 * moving best, readings 31 to 120. The kinds `rehearsed` and `rehearsed, ageing` are the rehearsal's own bench.
 * SETTLE_SOURCES (default 60), SETTLE_SEED, SETTLE_KINDS=a,b choose the run; SETTLE_PART=stays|stops one half of it;
 * SETTLE_ROWS=file keeps each result as a line and takes up what is there, so that a long run may be cut.
 */
import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { chanceWithin } from '../src/core/settling/chance.ts';
import {
  advise,
  costOf,
  type Ledger,
  type SettlePoint,
  type SettleSession,
} from '../src/core/settling/index.ts';
import { plainGp } from './settle/plain-gp.ts';
import { rehearsedSource } from './settle/rehearsed-source.ts';
import { type Ask, oneFactor, simplex, simplexOnRatio } from './settle/rivals.ts';
import { BOX, hiddenSource, KINDS, type Kind, type Source, START } from './settle/source.ts';

const SOURCES = Number(process.env.SETTLE_SOURCES ?? 60);
const SEED = Number(process.env.SETTLE_SEED ?? 700_000);
const REHEARSED = ['rehearsed', 'rehearsed ageing'] as const;
type AnyKind = Kind | (typeof REHEARSED)[number];
const WANTED = (process.env.SETTLE_KINDS ?? [...KINDS, ...REHEARSED].join(',')).split(',') as AnyKind[];
const PART = process.env.SETTLE_PART;
const ROWS = process.env.SETTLE_ROWS;
const WITHIN = 0.95;
const STAYS = 5;
const BUDGET = { search: 130, rival: 400 };
const DRIFT_FROM = 31;
const DRIFT_TO = 120;
const DRIFT_READING_S = 40;
const UNSTEADY_PERCENT = 20;

interface Method {
  name: string;
  budget: number;
  /** Screws approached from one side, as its advice says. */
  fromBelow: boolean;
  make(): (session: SettleSession) => { to: SettlePoint; best: SettlePoint };
}

let kept: Map<string, unknown> | undefined;

const METHODS: Method[] = [
  { name: 'settle', budget: BUDGET.search, fromBelow: true, make: () => settling(true) },
  { name: 'plain Gaussian process', budget: BUDGET.search, fromBelow: false, make: () => plainGp },
  { name: 'simplex in V/V_on', budget: BUDGET.rival, fromBelow: false, make: () => asking(simplexOnRatio()) },
  { name: 'simplex', budget: BUDGET.rival, fromBelow: false, make: () => asking(simplex()) },
  { name: 'one factor', budget: BUDGET.rival, fromBelow: false, make: () => asking(oneFactor()) },
];

for (const kind of WANTED) {
  process.stdout.write(`${kind}, ${SOURCES} sources from seed ${SEED}\n`);
  if (kind.includes('drift') || kind === 'rehearsed ageing') drifting(kind);
  else standing(kind);
}

function standing(kind: AnyKind): void {
  for (const method of PART === 'stops' ? [] : METHODS) {
    const runs = seeds().map((seed) =>
      known(`${kind}, ${method.name}, ${seed}`, () => untilItStays(kind, seed, method)),
    );
    const stays = runs.map(({ stays }) => stays).sort(ascending);
    const minutes = runs.map(({ minutes }) => minutes).sort(ascending);
    const failed = stays.filter((n) => !Number.isFinite(n)).length / SOURCES;
    const [low, high] = medianInterval(stays);
    line(
      `  ${method.name}`,
      `median ${at(stays, 0.5)} (95 % interval ${low} to ${high}), 90 % ${at(stays, 0.9)}, failures ${(100 * failed).toFixed(1)} % ${shareInterval(failed)}, minutes ${at(minutes, 0.5)} / ${at(minutes, 0.9)}`,
    );
  }
  if (PART === 'stays') return;
  const stops = seeds().map((seed) => known(`${kind}, stops, ${seed}`, () => untilItStops(kind, seed)));
  const shares = stops.map(({ share }) => share).sort(ascending);
  const count = stops.map(({ readings }) => readings).sort(ascending);
  const part = (least: number) =>
    `${((100 * shares.filter((s) => s >= least).length) / SOURCES).toFixed(0)} %`;
  line(
    '  settle, as it stops',
    `after ${at(count, 0.5)} / ${at(count, 0.9)} readings; within 5 % ${part(WITHIN)}, within 10 % ${part(0.9)}, within 20 % ${part(0.8)}, tenth worst ${shares[Math.floor(0.1 * SOURCES)]!.toFixed(2)}; said chance ${mean(stops.map((s) => s.said)).toFixed(2)}`,
  );
}

function drifting(kind: AnyKind): void {
  for (const fed of [false, true]) {
    const methods = fed ? METHODS.slice(0, 1) : METHODS;
    for (const method of methods) {
      const scores = seeds()
        .map((seed) =>
          known(`${kind}, ${method.name}${fed ? ' fed' : ''}, ${seed}`, () =>
            shareUnderDrift(kind, seed, method, fed),
          ),
        )
        .sort(ascending);
      const half = 1.96 * Math.sqrt(mean(scores.map((s) => (s - mean(scores)) ** 2)) / (SOURCES - 1));
      line(
        `  ${method.name}${fed ? ', 85 % of the drift fed forward' : ''}`,
        `mean ${(100 * mean(scores)).toFixed(1)} ± ${(100 * half).toFixed(1)} % of the moving best, tenth worst ${(100 * scores[Math.floor(0.1 * SOURCES)]!).toFixed(1)} %`,
      );
    }
  }
}

function untilItStays(kind: AnyKind, seed: number, method: Method): { stays: number; minutes: number } {
  const source = sourceOf(kind, seed);
  const next = method.make();
  const session = sessionOf();
  let [time, run, began] = [0, 0, 0];
  let stands = START;
  for (let n = 0; n <= method.budget; n++) {
    const { to, best } = next(session);
    const good = n > 0 && source.share(best, time, method.fromBelow) >= WITHIN && source.steady(best, time);
    run = good ? run + 1 : 0;
    if (run === 1) began = time;
    if (run === STAYS) return { stays: n - STAYS + 1, minutes: Number((began / 60).toFixed(1)) };
    time += costOf(stands, to);
    stands = to;
    session.readings.push({ time_s: time, at: to, ...source.read(to, time, method.fromBelow) });
  }
  return { stays: Number.POSITIVE_INFINITY, minutes: Number.POSITIVE_INFINITY };
}

function untilItStops(kind: AnyKind, seed: number): { readings: number; share: number; said: number } {
  const source = sourceOf(kind, seed);
  const session = sessionOf();
  let ledger: Ledger | undefined;
  let [time, stands] = [0, START];
  for (let n = 0; ; n++) {
    const decision = advise(session, { before: ledger });
    ledger = decision.ledger;
    if (decision.kind === 'done' || n === BUDGET.search) {
      const share = source.steady(decision.best, time) ? source.share(decision.best, time, true) : 0;
      return {
        readings: n,
        share,
        said: chanceWithin(session, decision),
      };
    }
    time += costOf(stands, decision.to);
    stands = decision.to;
    session.readings.push({ time_s: time, at: decision.to, ...source.read(decision.to, time, true) });
  }
}

function shareUnderDrift(kind: AnyKind, seed: number, method: Method, fed: boolean): number {
  const source = sourceOf(kind, seed);
  const next = method.make();
  const session = sessionOf();
  if (fed)
    session.onset_course = Array.from({ length: 16 }, (_, k) => ({
      time_min: (k * DRIFT_TO * DRIFT_READING_S) / 60 / 15,
      factor: source.onsetFactor((k * DRIFT_TO * DRIFT_READING_S) / 15) ** 0.85,
    }));
  let sum = 0;
  for (let n = 0; n <= DRIFT_TO; n++) {
    const time = n * DRIFT_READING_S;
    const { to, best } = next(session);
    if (n >= DRIFT_FROM) sum += source.share(best, time, method.fromBelow);
    session.readings.push({ time_s: time, at: to, ...source.read(to, time, method.fromBelow) });
  }
  return sum / (DRIFT_TO - DRIFT_FROM + 1);
}

function settling(onwards: boolean): (session: SettleSession) => { to: SettlePoint; best: SettlePoint } {
  let before: Ledger | undefined;
  return (session) => {
    const decision = advise(session, { before, onwards });
    before = decision.ledger;
    return decision;
  };
}

function asking(ask: Ask): (session: SettleSession) => { to: SettlePoint; best: SettlePoint } {
  let best = { at: START, worth: 0 };
  return ({ readings }) => {
    const last = readings.at(-1);
    if (last === undefined) return { to: ask.next().value as SettlePoint, best: START };
    const worth = last.level * ((last.scatter_percent ?? 0) >= UNSTEADY_PERCENT ? 0.6 : 1);
    if (worth > best.worth) best = { at: last.at, worth };
    return { to: ask.next(worth).value as SettlePoint, best: best.at };
  };
}

function sessionOf(): SettleSession {
  return {
    seed: 1,
    polarity: 'positive',
    start: START,
    axes: { ...BOX },
    reads: 'typed',
    matters: 'level',
    supply_limit_V: 5000,
    readings: [],
  };
}

function sourceOf(kind: AnyKind, seed: number): Omit<Source, 'kind'> {
  if (kind === 'rehearsed') return rehearsedSource(seed);
  if (kind === 'rehearsed ageing') return rehearsedSource(seed, true);
  return hiddenSource(kind, seed);
}

/** A result that an earlier run wrote down, or a new one. Infinity is written as 'never'. */
function known<T>(key: string, make: () => T): T {
  kept ??= new Map(
    (ROWS !== undefined && existsSync(ROWS) ? readFileSync(ROWS, 'utf8').trim().split('\n') : [])
      .filter((row) => row !== '')
      .map(
        (row) =>
          JSON.parse(row, (_, v) => (v === 'never' ? Number.POSITIVE_INFINITY : v)) as [string, unknown],
      ),
  );
  const found = kept.get(key);
  if (found !== undefined) return found as T;
  const value = make();
  kept.set(key, value);
  if (ROWS !== undefined)
    appendFileSync(
      ROWS,
      `${JSON.stringify([key, value], (_, v) => (v === Number.POSITIVE_INFINITY ? 'never' : v))}\n`,
    );
  return value;
}

function seeds(): number[] {
  return Array.from({ length: SOURCES }, (_, k) => SEED + k);
}

function ascending(a: number, b: number): number {
  return a - b;
}

function at(sorted: readonly number[], share: number): string {
  const value = sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return Number.isFinite(value) ? String(value) : 'never';
}

/** Order statistics that hold the median with 95 %. */
function medianInterval(sorted: readonly number[]): [string, string] {
  const half = (0.98 * Math.sqrt(sorted.length)) / sorted.length;
  return [at(sorted, Math.max(0, 0.5 - half)), at(sorted, 0.5 + half)];
}

/** Wilson's interval of a share, 95 %. */
function shareInterval(p: number): string {
  const z = 1.96;
  const n = SOURCES;
  const middle = (p + (z * z) / (2 * n)) / (1 + (z * z) / n);
  const half = (z * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n))) / (1 + (z * z) / n);
  return `(${(100 * Math.max(0, middle - half)).toFixed(1)} to ${(100 * (middle + half)).toFixed(1)} %)`;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function line(name: string, words: string): void {
  process.stdout.write(`${name}: ${words}\n`);
}
