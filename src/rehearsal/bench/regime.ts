/**
 * What the meniscus does at a ratio V/V_on, with memory: a standing jet survives below the edge where it forms. Ratios come
 * from the truth; below the minimum flow no steady jet forms at any voltage. Order along rising voltage: dripping, bursts,
 * pulsation, an unsteady stretch, the steady jet, tilted, several (Marginean et al. 2007, Anal. Chem. 79:8030, read (abstract)).
 */
import type { BenchTruth } from './truth.ts';

export const BENCH_REGIMES = [
  'no spray',
  'dripping',
  'bursts',
  'pulsating',
  'unsteady',
  'cone-jet',
  'tilted jet',
  'several jets',
  'arc',
] as const;
export type BenchRegime = (typeof BENCH_REGIMES)[number];

export interface RegimeInput {
  /** V/V_on. */
  ratio: number;
  /** [m3/s] */
  flow: number;
  /** Tip voltage over the gap's spark voltage times the share a sharp tip bears. */
  sparkRatio: number;
  before: BenchRegime;
}

export interface RegimeAnswer {
  regime: BenchRegime;
  jets: number;
  /** 0 at the onset to 1 at the steady edge. */
  depth: number;
}

/** Shares of the stretch from onset to steady edge at which bursts give way to pulsation, and that to the unsteady stretch. */
export const BURSTS_TO = 0.35;
const PULSATING_TO = 0.85;
/** A further jet for each such rise over the edge of several jets, and what it takes to lose one. Judgement: 5 to 15 %. */
const JET_STEP = 0.09;
export const MOST_JETS = 6;
/** Less flow than this share of the minimum is none. */
const NO_FLOW_SHARE = 0.05;

export function regimeAt(truth: BenchTruth, { ratio, flow, sparkRatio, before }: RegimeInput): RegimeAnswer {
  const { steadyFrom, tiltFrom, severalFrom, returnShare, minimumFlow } = truth;
  const depth = Math.min(1, Math.max(0, (ratio - 1) / (steadyFrom - 1)));
  const answer = (regime: BenchRegime, jets = 0): RegimeAnswer => ({ regime, jets, depth });
  if (sparkRatio > 1) return answer('arc');
  if (flow < NO_FLOW_SHARE * minimumFlow) return answer('no spray');
  const standing = before === 'cone-jet' || before === 'tilted jet' || before === 'several jets';
  const enough = flow >= (standing ? RETURN_FLOW_SHARE : 1) * minimumFlow;
  const from = standing ? steadyFrom * returnShare : steadyFrom;
  if (ratio < Math.min(1, from)) return answer('dripping');
  if (!enough) return answer(depth < BURSTS_TO ? 'bursts' : 'pulsating');
  if (ratio < from) {
    if (depth < BURSTS_TO) return answer('bursts');
    return answer(depth < PULSATING_TO ? 'pulsating' : 'unsteady');
  }
  if (ratio >= severalFrom) {
    const more = Math.floor((ratio / severalFrom - 1) / JET_STEP);
    return answer('several jets', Math.min(MOST_JETS, 2 + more));
  }
  return answer(ratio >= tiltFrom ? 'tilted jet' : 'cone-jet', 1);
}

/** A standing jet bears a little less flow than a forming one. Judgement. */
const RETURN_FLOW_SHARE = 0.8;
