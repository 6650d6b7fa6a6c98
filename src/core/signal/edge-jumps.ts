/**
 * Jumps of one series from sample to sample with their local scatter: those its ions have in common where they are given,
 * else the level's own beyond the slopes around. Across a pause there is none.
 * A level's jump stands out only where it is no part of a front; slower edges are none.
 */
import { MAD_TO_SIGMA, median } from '../numeric/robust.ts';
import { pauseFrom } from './pause.ts';
import { slowMedian } from './running-quantile.ts';

export interface JointSeries {
  time_s: ArrayLike<number>;
  log: ArrayLike<number>;
  /** ln jump into each sample from the one before, and its standard error; NaN where the level has to answer. */
  jump?: { value: Float64Array; error: Float64Array };
}

/** A jump rings so many samples off with less than this share of its size. */
export interface Ringing {
  samples: number;
  share: number;
}

export interface Jumps {
  time_s: ArrayLike<number>;
  /** Jump into sample i from the one before, beyond the middle of the slopes before and after. */
  size: Float64Array;
  sigma: Float64Array;
  /** Twice the smaller change of the samples before and after each jump in its own sense; 0 where either moves the other way. */
  front: Float64Array;
}

/** The yardstick is local: steep elution raises it. */
const YARD = { span_s: 40, samples: 25, least: 0.8 };
/** Jumps of ions overlap over some samples: a short yardstick would scatter by a third itself. */
const ION_YARD = { span_s: 120, samples: 61, least: 0.9 };
/** Sigmas from which a jump's own ringing is worth taking out. */
const RINGS_FROM = 4;
/** An edge is no part of a front: a level that moves in its sense in so many samples both before and after moves by less there. Judgement. */
const FRONT_SAMPLES = 3;

export function jumps({ time_s, log, jump }: JointSeries, ring: Ringing): Jumps {
  const level = levelJumps(time_s, log);
  if (!jump) return level;
  const known = jump.value.map((value) => (Number.isFinite(value) ? value : 0));
  const sigma = localSigma(time_s, known, ION_YARD);
  for (let i = 0; i < known.length; i++) {
    // A scan with too few ions is answered for by its level.
    if (!Number.isFinite(jump.value[i]!)) continue;
    level.size[i] = jump.value[i]!;
    // Those of few ions scatter more than those around.
    level.sigma[i] = Math.hypot(sigma[i]!, jump.error[i]!);
    level.front[i] = 0;
  }
  // A large jump of one series alone rings as well: what is left of it would pass for a small one of both.
  const size = level.size.slice();
  for (let i = 0; i < size.length; i++) {
    if (Math.abs(size[i]!) < RINGS_FROM * level.sigma[i]!) continue;
    for (let k = Math.max(0, i - ring.samples); k <= Math.min(size.length - 1, i + ring.samples); k++) {
      if (Math.abs(size[k]!) < ring.share * Math.abs(size[i]!)) level.size[k] = 0;
    }
  }
  return level;
}

function levelJumps(time_s: ArrayLike<number>, log: ArrayLike<number>): Jumps {
  const n = log.length;
  const size = new Float64Array(n);
  const slope = (i: number): number => log[i]! - log[i - 1]!;
  const spacing = (i: number): number => time_s[i]! - time_s[i - 1]!;
  const pause_s = pauseFrom(time_s);
  for (let i = 2; i < n - 1; i++) {
    // Across a pause there is no jump, and no slope beside one.
    if (spacing(i - 1) > pause_s || spacing(i) > pause_s || spacing(i + 1) > pause_s) continue;
    size[i] = slope(i) - (slope(i - 1) + slope(i + 1)) / 2;
  }
  const front = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    const sense = Math.sign(size[i]!);
    const before = log[i - 1]! - log[Math.max(0, i - 1 - FRONT_SAMPLES)]!;
    const after = log[Math.min(n - 1, i + FRONT_SAMPLES)]! - log[i]!;
    front[i] = 2 * Math.max(0, Math.min(sense * before, sense * after));
  }
  return { time_s, size, front, sigma: localSigma(time_s, size, YARD) };
}

/** Scaled middle size around each sample, at least so much of that of the whole; zeros are no sizes. */
function localSigma(time_s: ArrayLike<number>, size: Float64Array, yard: typeof YARD): Float64Array {
  const sizes = size.map(Math.abs);
  const known = sizes.filter((value) => value > 0);
  const whole = known.length > 0 ? MAD_TO_SIGMA * median(known) : 0;
  const around = slowMedian(time_s, sizes, yard.span_s / 2, yard.samples);
  return around.map((value) => Math.max(yard.least * whole, MAD_TO_SIGMA * value, 1e-9));
}
