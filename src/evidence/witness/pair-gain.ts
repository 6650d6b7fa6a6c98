/**
 * Common gain of two neighbouring scans: the middle of ln(intensity now / intensity before) over peaks found in both.
 * Elution moves single peaks and is voted down while less than half of them go one way; a change of the spray moves all.
 * Never to be summed over a run: peaks tail and appearing ones have no partner, so the sum drifts by several ln units
 * (computed on real runs). Below LEAST_MATCHED peaks there is no value.
 */
import { MAD_TO_SIGMA } from '../../core/numeric/robust.ts';
import { type PeakList, STRONGEST, select } from './peak-list.ts';

/** With fewer pairs the standard error is itself unknown to a quarter. */
export const LEAST_MATCHED = 20;
/** Standard error of a median of normal values over that of their mean: sqrt(pi / 2). */
const MEDIAN_OVER_MEAN = 1.2533;

export interface PairGain {
  matched: number;
  gain: number;
  error: number;
  low: number;
  high: number;
  /** Middle distance of the pairs, in parts per million. */
  distance_ppm: number;
}

const none: PairGain = {
  matched: 0,
  gain: Number.NaN,
  error: Number.NaN,
  low: Number.NaN,
  high: Number.NaN,
  distance_ppm: Number.NaN,
};

/** Strong peaks of one scan kept for the next. */
export class StrongPeaks {
  readonly mz = new Float64Array(STRONGEST);
  readonly log = new Float64Array(STRONGEST);
  count = 0;

  keep(list: PeakList): void {
    this.count = list.strongCount;
    for (let k = 0; k < list.strongCount; k++) {
      const i = list.strong[k]!;
      this.mz[k] = list.mz[i]!;
      this.log[k] = Math.log(list.intensity[i]!);
    }
  }
}

const ratio = new Float64Array(STRONGEST);
const distance = new Float64Array(STRONGEST);
const work = new Float64Array(STRONGEST);

/** `now` against `before`; peaks pair when each is the other's nearest, within `tolerance_ppm`. */
export function pairGain(before: StrongPeaks, now: StrongPeaks, tolerance_ppm: number): PairGain {
  let matched = 0;
  let j = 0;
  for (let i = 0; i < now.count; i++) {
    const mz = now.mz[i]!;
    while (j + 1 < before.count && Math.abs(before.mz[j + 1]! - mz) <= Math.abs(before.mz[j]! - mz)) j++;
    if (j >= before.count) break;
    const off = Math.abs(before.mz[j]! - mz);
    if (off > tolerance_ppm * 1e-6 * mz) continue;
    // Mutual: no other peak of this scan stands nearer to the partner.
    if (i > 0 && Math.abs(now.mz[i - 1]! - before.mz[j]!) < off) continue;
    if (i + 1 < now.count && Math.abs(now.mz[i + 1]! - before.mz[j]!) < off) continue;
    ratio[matched] = now.log[i]! - before.log[j]!;
    distance[matched++] = (1e6 * off) / mz;
  }
  if (matched < LEAST_MATCHED) return { ...none, matched };
  const half = matched >> 1;
  const gain = middle(0, matched);
  for (let k = 0; k < matched; k++) work[k] = Math.abs(ratio[k]! - gain);
  const sigma = MAD_TO_SIGMA * select(work, matched, half);
  for (let k = 0; k < matched; k++) work[k] = distance[k]!;
  const distance_ppm = select(work, matched, half);
  return {
    matched,
    gain,
    error: (MEDIAN_OVER_MEAN * sigma) / Math.sqrt(matched),
    low: middle(0, half),
    high: middle(half, matched),
    distance_ppm,
  };
}

function middle(from: number, to: number): number {
  const n = to - from;
  for (let k = 0; k < n; k++) work[k] = ratio[from + k]!;
  return select(work, n, n >> 1);
}
