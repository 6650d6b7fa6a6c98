/**
 * Two emitters over many runs: the difference with a range (bootstrap, seeded) and the chance of so large a difference if
 * the runs were dealt to the two at random (permutation, seeded). Efron and Tibshirani, 1993, An Introduction to the
 * Bootstrap, chapters 13 and 15 (from memory). Both treat runs as independent: where neighbours resemble each other
 * (lag-1 correlation given) ranges are too narrow. A share of yes-or-no files takes Newcombe's hybrid score range instead, which
 * does not shrink to nothing where no file was bad (Newcombe, 1998, Stat Med 17:873, method 10, from memory). Two emitters mounted once each: the mounting is part of the difference.
 */
import { median, quantile } from '../../core/numeric/robust.ts';
import { type RandomStream, randomStream } from '../../core/random.ts';
import { percentText } from '../words.ts';
import { isBad, type RunSummary } from './run-summary.ts';
import { pText } from './trend.ts';

export interface Difference {
  quantity: string;
  /** `difference`: first less second; `ratio`: first over second. */
  as: 'difference' | 'ratio';
  first: number;
  second: number;
  value: number;
  /** 95 % range. */
  low: number;
  high: number;
  p: number;
  /** Correlation of neighbouring runs within the two, pooled; null where it cannot be had. */
  neighbours: number | null;
  files: [number, number];
  sentence: string;
}

export interface EmitterComparison {
  differences: Difference[];
  cautions: string[];
}

const BAD_SHARE = 'share of bad files';
const RESAMPLES = 2000;
const LEAST_RUNS = 5;
const TOLD = 0.05;
/** From this correlation on a caution is given: two standard errors of 40 runs. */
const NEIGHBOURS_TOLD = 0.3;

export function compareEmitters(
  first: readonly RunSummary[],
  second: readonly RunSummary[],
  names: readonly [string, string] = ['the first', 'the second'],
  seed = 1,
): EmitterComparison {
  const judged = (runs: readonly RunSummary[]) => runs.filter((run) => run.grade !== 'cannot tell');
  const a = judged(first);
  const b = judged(second);
  const cautions = [
    'Each emitter was mounted once: where it stands before the inlet is part of the difference.',
    'Compare runs of one method and like samples; injection time and scatter follow the sample too.',
  ];
  const differences: Difference[] = [];
  const add = (
    quantity: string,
    as: Difference['as'],
    value: (run: RunSummary) => number | null,
    unit: (value: number) => string,
  ): void => {
    const x = a.map(value).filter((v) => v !== null);
    const y = b.map(value).filter((v) => v !== null);
    if (x.length < LEAST_RUNS || y.length < LEAST_RUNS) return;
    differences.push(difference(quantity, as, x, y, names, unit, seed));
  };
  add('share of usable minutes', 'difference', (run) => run.kept_share, percentText);
  add('scatter from scan to scan', 'ratio', (run) => run.scan_scatter, percentText);
  add(
    'injection time',
    'ratio',
    (run) => run.injection_ms,
    (v) => `${Number(v.toPrecision(3))} ms`,
  );
  add(BAD_SHARE, 'difference', (run) => (isBad(run) ? 1 : 0), percentText);
  if (differences.length === 0) {
    cautions.unshift(
      `Too few judged runs to compare: ${a.length} and ${b.length}; expected ${LEAST_RUNS} or more each.`,
    );
  }
  if (differences.some((one) => (one.neighbours ?? 0) > NEIGHBOURS_TOLD)) {
    cautions.push('Neighbouring runs resemble each other: the ranges given are too narrow.');
  }
  return { differences, cautions };
}

function difference(
  quantity: string,
  as: Difference['as'],
  x: readonly number[],
  y: readonly number[],
  names: readonly [string, string],
  unit: (value: number) => string,
  seed: number,
): Difference {
  // A share is compared by its mean; a positive quantity by the median, whose ratio one odd run does not carry away.
  const centre = as === 'difference' ? mean : (values: readonly number[]) => median(values);
  const gap = (p: number, q: number) => (as === 'difference' ? p - q : p / q);
  const size = (value: number) => (as === 'difference' ? Math.abs(value) : Math.abs(Math.log(value)));
  const value = gap(centre(x), centre(y));
  const draw = randomStream(seed, `compare ${quantity}`);
  const resampled = Float64Array.from({ length: RESAMPLES }, () =>
    gap(centre(again(x, draw)), centre(again(y, draw))),
  );
  const pool = [...x, ...y];
  let reached = 0;
  for (let k = 0; k < RESAMPLES; k++) {
    shuffle(pool, draw);
    // The rounding of a sum must not make the very same split smaller than itself.
    if (size(gap(centre(pool.slice(0, x.length)), centre(pool.slice(x.length)))) >= size(value) - 1e-12)
      reached++;
  }
  const p = (1 + reached) / (1 + RESAMPLES);
  const scored = quantity === BAD_SHARE ? scoreRange(x, y) : undefined;
  const low = scored?.low ?? quantile(resampled, 0.025);
  const high = scored?.high ?? quantile(resampled, 0.975);
  const [one, two] = [centre(x), centre(y)];
  const ends =
    as === 'difference'
      ? `${signed(low)} to ${signed(high)}`
      : `${low.toFixed(2)} to ${high.toFixed(2)} times`;
  // Resampling runs that are all the same says nothing of the next one.
  const range = low === high ? 'not told, since all runs are alike' : ends;
  const verdict = p < TOLD ? 'they differ' : 'no difference shown';
  return {
    quantity,
    as,
    first: one,
    second: two,
    value,
    low,
    high,
    p,
    neighbours: neighbours(x, y),
    files: [x.length, y.length],
    sentence: `${quantity}: ${names[0]} ${unit(one)}, ${names[1]} ${unit(two)}; ${as} ${as === 'difference' ? signed(value) : `${value.toFixed(2)} times`} (95 % range ${range}), p ${pText(p)}: ${verdict}.`,
  };
}

const Z_95 = 1.959964;

/** 95 % range of the difference of two shares, each from its own Wilson range. */
export function scoreRange(x: readonly number[], y: readonly number[]): { low: number; high: number } {
  const one = wilson(x);
  const two = wilson(y);
  const gap = one.share - two.share;
  return {
    low: gap - Math.hypot(one.share - one.low, two.high - two.share),
    high: gap + Math.hypot(one.high - one.share, two.share - two.low),
  };
}

function wilson(values: readonly number[]): { share: number; low: number; high: number } {
  const n = values.length;
  const share = mean(values);
  const z2 = Z_95 ** 2;
  const middle = (share + z2 / (2 * n)) / (1 + z2 / n);
  const half = (Z_95 / (1 + z2 / n)) * Math.sqrt((share * (1 - share)) / n + z2 / (4 * n * n));
  return { share, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function again(values: readonly number[], draw: RandomStream): number[] {
  return values.map(() => values[draw.index(values.length)]!);
}

function shuffle(values: number[], draw: RandomStream): void {
  for (let i = values.length - 1; i > 0; i--) {
    const j = draw.index(i + 1);
    [values[i], values[j]] = [values[j]!, values[i]!];
  }
}

/** Lag-1 correlation within each list about its own mean, pooled. */
function neighbours(...lists: (readonly number[])[]): number | null {
  let products = 0;
  let squares = 0;
  for (const list of lists) {
    const centre = mean(list);
    for (let i = 0; i < list.length; i++) {
      squares += (list[i]! - centre) ** 2;
      if (i > 0) products += (list[i]! - centre) * (list[i - 1]! - centre);
    }
  }
  return squares > 0 ? products / squares : null;
}

function signed(share: number): string {
  const points = 100 * share;
  return `${points < 0 ? '−' : '+'}${Math.abs(points).toFixed(1)} points`;
}
