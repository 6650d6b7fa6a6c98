/**
 * The rehearsed bench asked for one standing point at a time, for a search to settle on: onset by the solved equilibrium, regime
 * with its memory, signal by the bench's own ridge. Quasi-steady: lags, wetting, gas and the wobble of the voltage are left out, so
 * it is kinder than the running bench. Sideways it has two directions, the second axis drawn like the first. Limit: the ridge has
 * the form that the search assumes too (bells in V/V_on, offset and log-distance); the onset over distance and the regimes do not.
 */
import { randomStream } from '../../core/random.ts';
import { MM, NL_MIN } from '../../core/units.ts';
import { type BenchRegime, regimeAt } from './regime.ts';
import { ringRadius_mm, sourceLevel } from './source.ts';
import { type TipOver, tipOver } from './tip-onset-over.ts';
import { type BenchTruth, benchTruth, centre_mm, type TruthOptions } from './truth.ts';

export interface HiddenPoint {
  voltage_V: number;
  distance_mm: number;
  lateral_x_mm: number;
  lateral_y_mm: number;
}

export interface HiddenAnswer {
  regime: BenchRegime;
  ratio: number;
  /** Before noise; 1: the best of this emitter at 300 nL/min. */
  level: number;
  /** Standard deviation of the logarithm from scan to scan. */
  scatter: number;
}

export interface HiddenSource {
  truth: BenchTruth;
  flow_nL_min: number;
  /** Where the inlet's axis is on the stage [mm]. */
  axis_mm: { x: number; y: number };
  onset_V(distance_mm: number, minutes: number): number;
  /** `before`: the regime at the point where it stood. */
  at(point: HiddenPoint, minutes: number, before: BenchRegime): HiddenAnswer;
  /** The highest level among these distances and voltages, at the best place sideways. */
  best(minutes: number, within: { distance_mm: Span; voltage_V: Span }): HiddenPoint & { level: number };
}

type Span = { low: number; high: number };

export interface HiddenSourceOptions extends TruthOptions {
  /** Default: the set-up's. */
  flow_nL_min?: number;
  /** Whether the contact line grows as the truth says; default false. */
  ages?: boolean;
  /** A solved tip of the same seed and set-up. */
  tip?: TipOver;
}

/** From one distance to the next in the search for the best [mm]. */
const STEP_MM = 0.05;

export function hiddenSource(options: HiddenSourceOptions): HiddenSource {
  const truth = benchTruth({ ...options, fault: 'none' });
  const tip = options.tip ?? tipOver(truth);
  const { feed } = truth.setup;
  const flow_nL_min = options.flow_nL_min ?? (feed.kind === 'pumped' ? feed.flow_nL_min : 0);
  const axis_mm = { x: truth.centre_mm, y: centre_mm(randomStream(truth.seed, 'bench second axis')) };
  const onset_V = (distance_mm: number, minutes: number) => {
    const grown = options.ages ? 1 + truth.ageing_per_min * minutes : 1;
    return tip.onset(truth.contactRadius * grown, distance_mm * MM, truth.liquid.surfaceTension);
  };
  const at: HiddenSource['at'] = (point, minutes, before) => {
    const ratio = point.voltage_V / onset_V(point.distance_mm, minutes);
    const { regime } = regimeAt(truth, { ratio, flow: flow_nL_min * NL_MIN, sparkRatio: 0, before });
    const offset_mm = Math.hypot(point.lateral_x_mm - axis_mm.x, point.lateral_y_mm - axis_mm.y);
    const { distance_mm } = point;
    const { level, scatter } = sourceLevel(truth, { regime, ratio, flow_nL_min, offset_mm, distance_mm });
    return { regime, ratio, level, scatter };
  };
  const best: HiddenSource['best'] = (minutes, { distance_mm, voltage_V }) => {
    const place = { lateral_x_mm: axis_mm.x + ringRadius_mm(flow_nL_min), lateral_y_mm: axis_mm.y };
    let found = { voltage_V: 0, distance_mm: 0, ...place, level: -1 };
    for (let z = distance_mm.low; z <= distance_mm.high + STEP_MM / 2; z += STEP_MM) {
      const wanted = truth.bestRatio * onset_V(z, minutes);
      const held = Math.min(voltage_V.high, Math.max(voltage_V.low, wanted));
      const point = { voltage_V: held, distance_mm: z, ...place };
      const { level } = at(point, minutes, 'no spray');
      if (level > found.level) found = { ...point, level };
    }
    return found;
  };
  return { truth, flow_nL_min, axis_mm, onset_V, at, best };
}
