/**
 * Are the points of a scan declared as profile really a curve sampled along m/z? Some converters keep that word on scans
 * whose peaks were picked before: their points stand one to a peak, far apart and not always in order. Looked for as a
 * curve they hold no maxima, and the run would seem to have no ions to follow.
 * Rests on the spacing alone: a profile with fewer points in its peaks than between them is taken for a list.
 */

/**
 * Neighbours of a sampled peak stand closer than this share of m/z: at unit resolution, the coarsest, some ten points
 * make a peak 0.7 Da wide (1400 ppm at m/z 50). Judgement.
 */
const CURVE_GAP = 2e-3;

/** False for points out of order, or of which most stand further apart than those of a peak. */
export function isSampledCurve(mz: ArrayLike<number>): boolean {
  let wide = 0;
  for (let i = 1; i < mz.length; i++) {
    const gap = mz[i]! - mz[i - 1]!;
    if (gap < 0) return false;
    if (gap > CURVE_GAP * mz[i]!) wide++;
  }
  return 2 * wide <= Math.max(0, mz.length - 1);
}
