/** What the readings say now: the modes of every family with their weights, and predictions as a mixture of them. */
import { familiesOf } from './family.ts';
import { covarianceOf, type Datum, fitFamily, type Mode, type Projection, project } from './fit.ts';
import type { OnsetLaw } from './onset-law.ts';
import { type Place, placeOf } from './physics-mean.ts';
import type { SettlePoint, SettleSession } from './session.ts';

export interface Belief {
  law: OnsetLaw;
  modes: { mode: Mode; weight: number }[];
  /** The most probable physics mode, kept also where the readings speak against it: it places the voltages on V/V_on. */
  physics: Mode;
  epoch: number;
  /** Minutes since the session began. */
  now: number;
}

/** Modes less likely than this beside the best are left out. */
const LEAST_WEIGHT = 0.01;
const MOST_MODES = 6;

export function believe(
  session: SettleSession,
  law: OnsetLaw,
  data: readonly Datum[],
  at: { epoch: number; now: number; offsetDropped: boolean },
): Belief {
  const found: { mode: Mode; log: number }[] = [];
  for (const family of familiesOf(session, at.offsetDropped)) {
    const modes = fitFamily(family, data, session.seed);
    for (const mode of modes) found.push({ mode, log: mode.logEvidence + Math.log(family.share) });
  }
  found.sort((a, b) => b.log - a.log);
  const best = found[0]!.log;
  const kept = found.slice(0, MOST_MODES).filter(({ log }) => Math.exp(log - best) >= LEAST_WEIGHT);
  const total = kept.reduce((sum, { log }) => sum + Math.exp(log - best), 0);
  return {
    law,
    physics: (found.find(({ mode }) => mode.family.name !== 'readings alone') ?? found[0]!).mode,
    modes: kept.map(({ mode, log }) => ({ mode, weight: Math.exp(log - best) / total })),
    epoch: at.epoch,
    now: at.now,
  };
}

/** A point seen by every mode. */
export function seen(belief: Belief, at: SettlePoint): Projection[] {
  const place: Place = placeOf(belief.law, at, belief.now);
  return belief.modes.map(({ mode }) => project(mode, place, belief.epoch));
}

export function meanOf(belief: Belief, projections: readonly Projection[]): number {
  return belief.modes.reduce((sum, { weight }, k) => sum + weight * projections[k]!.mean, 0);
}

/** Mean and standard deviation of the mixture at one point. */
export function momentsOf(belief: Belief, projections: readonly Projection[]): { mean: number; sd: number } {
  const mean = meanOf(belief, projections);
  let variance = 0;
  for (const [k, { mode, weight }] of belief.modes.entries()) {
    const p = projections[k]!;
    variance += weight * (covarianceOf(mode, p, p) + (p.mean - mean) ** 2);
  }
  return { mean, sd: Math.sqrt(Math.max(0, variance)) };
}
