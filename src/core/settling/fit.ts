/**
 * A family fitted to the readings: parameters at their most probable values (Levenberg-Marquardt from several starts), each mode
 * with its Laplace spread and evidence. Noise and the smooth unknown are one covariance, factored once for each family; the
 * parameters' spread enters predictions as in a Gaussian process with explicit basis functions (Rasmussen & Williams 2006,
 * Gaussian Processes for Machine Learning, section 2.7, from memory). Breaks where a mode is far from Gaussian: several starts.
 */
import { randomStream } from '../random.ts';
import { cholesky, logDeterminant, solveLower, solveUpper } from './cholesky.ts';
import { covariance, type Family } from './family.ts';
import { COUNT, type Place, physicsMean } from './physics-mean.ts';

export interface Datum {
  place: Place;
  /** The log of what matters. */
  y: number;
  variance: number;
  /** Readings after a lasting change share a level of their own; 0 before any. */
  epoch: number;
}

export interface Mode {
  family: Family;
  theta: Float64Array;
  logEvidence: number;
  data: readonly Datum[];
  /** Indices of the free parameters. */
  free: readonly number[];
  factor: Float64Array;
  /** L⁻¹ (y − m), and L⁻¹ J row by row. */
  residual: Float64Array;
  jacobian: Float64Array;
  /** Factor of the parameters' precision. */
  precision: Float64Array;
}

/** A place seen by a mode: cov(a, b) = k(a, b) − a.seen·b.seen + a.spread·b.spread. */
export interface Projection {
  place: Place;
  epoch: number;
  mean: number;
  seen: Float64Array;
  spread: Float64Array;
}

const DRAWS = 240;
const STARTS = 4;
const MOST_STEPS = 14;
/** Draws are compared under noise this much wider, so that near ones count. */
const SCREEN_SD = 0.6;
/** Two modes closer than this in every parameter, in prior standard deviations, are one. */
const SAME_MODE = 0.25;
const STEP_ENOUGH = 1e-3;
/** A lasting change moves the level by this in its logarithm. */
const EPOCH_SD = 1.2;

export function fitFamily(family: Family, data: readonly Datum[], seed: number): Mode[] {
  const n = data.length;
  const free = [...family.sd.keys()].filter((i) => family.sd[i]! > 0);
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) factor[i * n + j] = between(family, data[i]!, data[j]!);
    factor[i * n + i]! += data[i]!.variance;
  }
  cholesky(n, factor);
  const logDet = logDeterminant(n, factor);
  const modes: Mode[] = [];
  // Nothing learned yet (every reading an event, say): the prior about a level of 1.
  const highest = data.length === 0 ? 0 : Math.max(...data.map(({ y }) => y));
  for (const start of startsOf(family, data, highest, seed)) {
    const mode = climb(family, data, free, factor, logDet, start, highest);
    const twin = modes.findIndex((known) => same(known, mode));
    if (twin < 0) modes.push(mode);
    else if (mode.logEvidence > modes[twin]!.logEvidence) modes[twin] = mode;
  }
  return modes;
}

function between(
  family: Family,
  a: { place: Place; epoch: number },
  b: { place: Place; epoch: number },
): number {
  const shared = a.epoch > 0 && a.epoch === b.epoch ? EPOCH_SD * EPOCH_SD : 0;
  return covariance(family.kernel, a.place, b.place) + shared;
}

/** Prior draws that miss the readings least; the prior's own centre is always among them. */
function startsOf(family: Family, data: readonly Datum[], highest: number, seed: number): Float64Array[] {
  const centre = Float64Array.from(family.mean);
  centre[0] = highest;
  if (!family.terms.ridge && !family.terms.ring) return [centre];
  const random = randomStream(seed, 'settle starts');
  const drawn: { theta: Float64Array; misfit: number }[] = [];
  for (let k = 0; k < DRAWS; k++) {
    const theta = centre.map((m, i) => (i === 0 ? 0 : m + random.normal() * family.sd[i]!));
    // The level that suits this draw best is known in closed form.
    let [weight, sum, squares] = [0, 0, 0];
    for (const { place, y, variance } of data) {
      const w = 1 / (variance + SCREEN_SD * SCREEN_SD);
      const r = y - physicsMean(family.terms, theta, place);
      weight += w;
      sum += w * r;
      squares += w * r * r;
    }
    theta[0] = weight > 0 ? sum / weight : highest;
    drawn.push({ theta, misfit: weight > 0 ? squares - (sum * sum) / weight : 0 });
  }
  drawn.sort((a, b) => a.misfit - b.misfit);
  return [centre, ...drawn.slice(0, STARTS).map(({ theta }) => theta)];
}

function climb(
  family: Family,
  data: readonly Datum[],
  free: readonly number[],
  factor: Float64Array,
  logDet: number,
  start: Float64Array,
  highest: number,
): Mode {
  const prior = Float64Array.from(family.mean);
  prior[0] = highest;
  const [n, p] = [data.length, free.length];
  const gradient = new Float64Array(COUNT);
  const rows = new Float64Array(n);
  let theta = start;
  let damping = 0.01;
  const lossOf = (at: Float64Array): { residual: Float64Array; loss: number } => {
    for (let i = 0; i < n; i++) rows[i] = data[i]!.y - physicsMean(family.terms, at, data[i]!.place);
    const residual = solveLower(n, factor, Float64Array.from(rows));
    let loss = 0;
    for (const r of residual) loss += r * r;
    for (const i of free) loss += ((at[i]! - prior[i]!) / family.sd[i]!) ** 2;
    return { residual, loss };
  };
  let { residual, loss } = lossOf(theta);
  let jacobian = whitened();
  let normal = normalOf(jacobian);
  for (let step = 0; step < MOST_STEPS; step++) {
    const damped = Float64Array.from(normal);
    for (let a = 0; a < p; a++) damped[a * p + a]! *= 1 + damping;
    cholesky(p, damped);
    const move = new Float64Array(p);
    for (let a = 0; a < p; a++) {
      let sum = -(theta[free[a]!]! - prior[free[a]!]!) / family.sd[free[a]!]! ** 2;
      for (let i = 0; i < n; i++) sum += jacobian[i * p + a]! * residual[i]!;
      move[a] = sum;
    }
    solveUpper(p, damped, solveLower(p, damped, move));
    const next = Float64Array.from(theta);
    let longest = 0;
    for (let a = 0; a < p; a++) {
      const most = 2 * family.sd[free[a]!]!;
      const by = Math.max(-most, Math.min(most, move[a]!));
      next[free[a]!]! += by;
      longest = Math.max(longest, Math.abs(by) / family.sd[free[a]!]!);
    }
    const there = lossOf(next);
    if (there.loss < loss) {
      const gained = loss - there.loss;
      theta = next;
      ({ residual, loss } = there);
      jacobian = whitened();
      normal = normalOf(jacobian);
      damping = Math.max(1e-6, damping / 5);
      if (longest < STEP_ENOUGH || gained < 1e-4) break;
    } else {
      damping *= 8;
      if (damping > 1e6) break;
    }
  }
  const precision = cholesky(p, Float64Array.from(normal));
  let logEvidence = -loss / 2 - logDet / 2 - logDeterminant(p, precision) / 2;
  for (const i of free) logEvidence -= Math.log(family.sd[i]!);
  return { family, theta, logEvidence, data, free, factor, residual, jacobian, precision };

  function whitened(): Float64Array {
    const j = new Float64Array(n * p);
    for (let i = 0; i < n; i++) {
      physicsMean(family.terms, theta, data[i]!.place, gradient);
      for (let a = 0; a < p; a++) j[i * p + a] = gradient[free[a]!]!;
    }
    // Forward substitution on all columns at once.
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < i; k++) {
        const l = factor[i * n + k]!;
        for (let a = 0; a < p; a++) j[i * p + a]! -= l * j[k * p + a]!;
      }
      const d = factor[i * n + i]!;
      for (let a = 0; a < p; a++) j[i * p + a]! /= d;
    }
    return j;
  }

  function normalOf(j: Float64Array): Float64Array {
    const h = new Float64Array(p * p);
    for (let i = 0; i < n; i++)
      for (let a = 0; a < p; a++) {
        const left = j[i * p + a]!;
        for (let b = 0; b <= a; b++) h[a * p + b]! += left * j[i * p + b]!;
      }
    for (let a = 0; a < p; a++) h[a * p + a]! += 1 / family.sd[free[a]!]! ** 2;
    return h;
  }
}

function same(a: Mode, b: Mode): boolean {
  return a.free.every((i) => Math.abs(a.theta[i]! - b.theta[i]!) < SAME_MODE * a.family.sd[i]!);
}

/** Parameters drawn from the spread of a mode. */
export function sampledTheta(mode: Mode, normal: () => number): Float64Array {
  const p = mode.free.length;
  const z = Float64Array.from({ length: p }, normal);
  solveUpper(p, mode.precision, z);
  const theta = Float64Array.from(mode.theta);
  for (let a = 0; a < p; a++) theta[mode.free[a]!]! += z[a]!;
  return theta;
}

export function project(mode: Mode, place: Place, epoch: number): Projection {
  const { family, data, free, factor, residual, jacobian, precision, theta } = mode;
  const [n, p] = [data.length, free.length];
  const seen = new Float64Array(n);
  for (let i = 0; i < n; i++) seen[i] = between(family, { place, epoch }, data[i]!);
  solveLower(n, factor, seen);
  const gradient = new Float64Array(COUNT);
  let mean = physicsMean(family.terms, theta, place, gradient);
  const spread = new Float64Array(p);
  for (let a = 0; a < p; a++) spread[a] = gradient[free[a]!]!;
  for (let i = 0; i < n; i++) {
    mean += seen[i]! * residual[i]!;
    for (let a = 0; a < p; a++) spread[a]! -= jacobian[i * p + a]! * seen[i]!;
  }
  solveLower(p, precision, spread);
  return { place, epoch, mean, seen, spread };
}

export function covarianceOf(mode: Mode, a: Projection, b: Projection): number {
  let sum = between(mode.family, a, b);
  for (let i = 0; i < a.seen.length; i++) sum -= a.seen[i]! * b.seen[i]!;
  for (let i = 0; i < a.spread.length; i++) sum += a.spread[i]! * b.spread[i]!;
  return sum;
}
