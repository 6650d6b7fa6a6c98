/**
 * The signal of the mass spectrometer: a ridge in V/V_on, in the lateral offset and in the distance, after the virtual source of
 * the settling study (computed). The best offset is on the axis up to 100 nL/min and moves to a ring as the flow and with it
 * the wet droplets grow. Judgement throughout: no open table of ion signal against position was found; a real source differs.
 */
import type { BenchRegime } from './regime.ts';
import type { BenchTruth } from './truth.ts';

/** Of log-signal in V/V_on, mm and log-distance. */
const WIDTH = { ratio: 0.1, offset_mm: 0.35, distance: 0.5 };
/** Radius of the ring [mm] at these flows [nL/min]. */
const RING = [
  [100, 0],
  [300, 0.5],
  [1000, 1],
] as const;
/** Share of the best signal, and scatter of its logarithm from scan to scan. */
const OF_REGIME: Record<BenchRegime, { share: number; scatter: number }> = {
  'no spray': { share: 0, scatter: 0 },
  dripping: { share: 0.004, scatter: 1 },
  bursts: { share: 0.12, scatter: 0.5 },
  pulsating: { share: 0.35, scatter: 0.35 },
  unsteady: { share: 0.55, scatter: 0.4 },
  'cone-jet': { share: 1, scatter: 0.05 },
  'tilted jet': { share: 0.85, scatter: 0.07 },
  'several jets': { share: 0.55, scatter: 0.16 },
  arc: { share: 0.02, scatter: 1.2 },
};
/** At the minimum and below the ridge in V/V_on is not narrower than the regimes themselves: it acts on a standing jet only. */
const STANDING: readonly BenchRegime[] = ['cone-jet', 'tilted jet', 'several jets'];

export interface SourceInput {
  regime: BenchRegime;
  ratio: number;
  flow_nL_min: number;
  /** True, off the true axis [mm]; true distance [mm]. */
  offset_mm: number;
  distance_mm: number;
}

export interface SourceLevel {
  /** 1: the best this emitter gives at 300 nL/min. */
  level: number;
  scatter: number;
}

export function sourceLevel(truth: BenchTruth, input: SourceInput): SourceLevel {
  const { share, scatter } = OF_REGIME[input.regime];
  const voltage = STANDING.includes(input.regime)
    ? bell((input.ratio - truth.bestRatio) / (WIDTH.ratio * truth.bestRatio))
    : 1;
  const ring = ringRadius_mm(input.flow_nL_min);
  const offset = bell((Math.abs(input.offset_mm) - ring) / WIDTH.offset_mm);
  const distance = bell(Math.log(Math.max(0.1, input.distance_mm) / truth.bestDistance_mm) / WIDTH.distance);
  return { level: share * flowLevel(input.flow_nL_min) * voltage * offset * distance, scatter };
}

/** Signal of a regime over that of a cone-jet. */
export function shareOf(regime: BenchRegime): number {
  return OF_REGIME[regime].share;
}

/** The best level at this flow, whatever the position and voltage. */
export function flowLevel(flow_nL_min: number): number {
  return Math.sqrt(Math.max(0, flow_nL_min) / 300);
}

export function ringRadius_mm(flow_nL_min: number): number {
  let before: readonly [number, number] = RING[0];
  for (const knot of RING) {
    if (flow_nL_min <= knot[0]) {
      const span = Math.log(knot[0] / before[0]);
      return span === 0
        ? knot[1]
        : before[1] + ((knot[1] - before[1]) * Math.log(flow_nL_min / before[0])) / span;
    }
    before = knot;
  }
  return before[1];
}

function bell(z: number): number {
  return Math.exp(-0.5 * z * z);
}
