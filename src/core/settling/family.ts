/**
 * Three ways to believe in the readings, weighed by how well each foretells them: the physics mean with the offset prior, the
 * same with the offset prior given up, and the readings alone (a constant mean, in the coordinate V/V_on). Each adds a smooth
 * Gaussian process for what its mean does not know. All widths are judgement, tuned on seeds that are not reported.
 */
import { COUNT, type Place, type Terms } from './physics-mean.ts';
import { type Axis, DEFAULT_SD_LN_RADIUS, type SettleSession } from './session.ts';

export type FamilyName =
  | 'physics with the offset prior'
  | 'physics without the offset prior'
  | 'readings alone';

export interface Kernel {
  /** Standard deviation of the log level that the mean does not know. */
  sd: number;
  /** Lengths: ln(V/V_on), mm, ln distance, degrees, minutes. */
  ratio: number;
  lateral: number;
  distance: number;
  angle: number;
  time: number;
}

export interface Family {
  name: FamilyName;
  /** Belief before any reading. */
  share: number;
  terms: Terms;
  mean: Float64Array;
  /** 0 where a parameter is held. */
  sd: Float64Array;
  kernel: Kernel;
}

/** Offset prior of the inlet's centre, both signs [mm]; without it [mm]. */
export const OFFSET_SD_MM = 0.7;
const FREE_OFFSET_SD_MM = 2.5;

export function familiesOf(session: SettleSession, offsetDropped: boolean): Family[] {
  const moves = (axis: Axis): boolean => session.axes[axis] !== undefined;
  const lateral = moves('lateral_x_mm') || moves('lateral_y_mm');
  const terms: Terms = {
    ridge: moves('voltage_V') || moves('distance_mm'),
    ring: lateral,
    distance: moves('distance_mm'),
    angle: moves('angle_deg'),
  };
  const none: Terms = { ridge: false, ring: false, distance: false, angle: false };
  const { mean, sd } = priorOf(session);
  const free = Float64Array.from(sd);
  free[4] = FREE_OFFSET_SD_MM;
  free[5] = FREE_OFFSET_SD_MM;
  free[6] = 0.8;
  free[7] = 0.6;
  const level = new Float64Array(COUNT);
  level[0] = sd[0]!;
  const families: Family[] = [
    { name: 'physics with the offset prior', share: 0.7, terms, mean, sd: held(sd, terms), kernel: STIFF },
    {
      name: 'physics without the offset prior',
      share: 0.25,
      terms,
      mean,
      sd: held(free, terms),
      kernel: LOOSE,
    },
    { name: 'readings alone', share: 0.05, terms: none, mean, sd: level, kernel: ALONE },
  ];
  return offsetDropped ? families.slice(1) : families;
}

const STIFF: Kernel = { sd: 0.08, ratio: 0.12, lateral: 0.6, distance: 0.4, angle: 20, time: 120 };
const LOOSE: Kernel = { sd: 0.35, ratio: 0.1, lateral: 0.6, distance: 0.4, angle: 20, time: 120 };
const ALONE: Kernel = { sd: 1.5, ratio: 0.13, lateral: 0.7, distance: 0.5, angle: 25, time: 120 };

/** Ring radius and distance by flow: 0 to 0.5 mm up to 100 nL/min, 0.5 to 1.5 mm from 300; distance as √flow (common practice, no source). */
function priorOf({ flow_nL_min: flow, onset }: SettleSession): { mean: Float64Array; sd: Float64Array } {
  const ring = flow === undefined ? 0.5 : Math.min(1.2, 0.25 * Math.sqrt(flow / 100) + 0.15);
  const distance = flow === undefined ? 3 : Math.min(5, Math.max(1, 2.7 * Math.sqrt(flow / 300)));
  //            level  u  ratio  ln w            cx cy ring  ln wr           ln z                ln wz          drift angle
  const mean = [
    0,
    0,
    1.2,
    Math.log(0.12),
    0,
    0,
    ring,
    Math.log(0.45),
    Math.log(distance),
    Math.log(0.6),
    0,
    20,
  ];
  const sd = [
    5,
    onset?.sd_ln_radius ?? DEFAULT_SD_LN_RADIUS,
    0.05,
    0.3,
    OFFSET_SD_MM,
    OFFSET_SD_MM,
    0.3,
    0.3,
    0.35,
    0.35,
    0.06,
    20,
  ];
  return { mean: Float64Array.from(mean), sd: Float64Array.from(sd) };
}

function held(sd: Float64Array, terms: Terms): Float64Array {
  const active = [
    true,
    terms.ridge,
    terms.ridge,
    terms.ridge,
    terms.ring,
    terms.ring,
    terms.ring,
    terms.ring,
    terms.distance,
    terms.distance,
    terms.ridge,
    terms.angle,
  ];
  return sd.map((s, i) => (active[i] ? s : 0));
}

/** Covariance of what the mean does not know. */
export function covariance(kernel: Kernel, a: Place, b: Place): number {
  const c = (a.c - b.c) / kernel.ratio;
  const x = (a.x - b.x) / kernel.lateral;
  const y = (a.y - b.y) / kernel.lateral;
  const z = (a.lnZ - b.lnZ) / kernel.distance;
  const angle = (a.angle - b.angle) / kernel.angle;
  const t = (a.t - b.t) / kernel.time;
  return kernel.sd * kernel.sd * Math.exp(-0.5 * (c * c + x * x + y * y + z * z + angle * angle + t * t));
}
