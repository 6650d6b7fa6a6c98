/**
 * Common gain of two neighbouring scans: the middle of ln(intensity now / intensity before) over peaks found in both.
 * Elution moves single peaks and is voted down while less than half of them go one way; a change of the spray moves all.
 * Never to be summed over a run: peaks tail and appearing ones have no partner, so the sum drifts by several ln units
 * (computed on real runs). Below LEAST_MATCHED peaks there is no value.
 */
import { MAD_TO_SIGMA } from '../../core/numeric/robust.ts';
import { select } from '../../core/signal/index.ts';
import { type PeakList, STRONGEST } from './peak-list.ts';

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
  /** Position of each peak's partner in the scan before; -1 for none. Known once the two were compared. */
  readonly from = new Int16Array(STRONGEST);
  count = 0;
  weakest_log = Number.POSITIVE_INFINITY;

  keep(list: PeakList): void {
    this.count = list.strongCount;
    this.weakest_log = Number.POSITIVE_INFINITY;
    for (let k = 0; k < list.strongCount; k++) {
      const i = list.strong[k]!;
      const log = Math.log(list.intensity[i]!);
      this.mz[k] = list.mz[i]!;
      this.log[k] = log;
      if (log < this.weakest_log) this.weakest_log = log;
    }
  }
}

const ratio = new Float64Array(STRONGEST);
const distance = new Float64Array(STRONGEST);
const off = new Float64Array(STRONGEST);
const work = new Float64Array(STRONGEST);

/**
 * `now` against `before`; peaks pair when each is the other's nearest, within `tolerance_ppm`. The middle distance is
 * found only where it is asked for.
 */
export function pairGain(
  before: StrongPeaks,
  now: StrongPeaks,
  tolerance_ppm: number,
  measured = true,
): PairGain {
  const matched = pairs(before, now, tolerance_ppm);
  if (matched < LEAST_MATCHED) return { ...none, matched };
  const half = matched >> 1;
  const gain = middle(ratio, 0, matched);
  for (let k = 0; k < matched; k++) off[k] = Math.abs(ratio[k]! - gain);
  const sigma = MAD_TO_SIGMA * middle(off, 0, matched);
  return {
    matched,
    gain,
    error: (MEDIAN_OVER_MEAN * sigma) / Math.sqrt(matched),
    low: middle(ratio, 0, half),
    high: middle(ratio, half, matched),
    distance_ppm: measured ? select(distance, matched, half) : Number.NaN,
  };
}

/** Fills `ratio`, `distance`, rising in m/z, and the partners of `now`; how many. */
function pairs(before: StrongPeaks, now: StrongPeaks, tolerance_ppm: number): number {
  const { mz: nowMz, log: nowLog, from, count } = now;
  const { mz: thenMz, log: thenLog, count: then } = before;
  from.fill(-1, 0, count);
  if (then === 0) return 0;
  const share = tolerance_ppm * 1e-6;
  let matched = 0;
  let j = 0;
  for (let i = 0; i < count; i++) {
    const mz = nowMz[i]!;
    let off = Math.abs(thenMz[j]! - mz);
    while (j + 1 < then) {
      const next = Math.abs(thenMz[j + 1]! - mz);
      if (next > off) break;
      off = next;
      j++;
    }
    if (off > share * mz) continue;
    // Mutual: no other peak of this scan stands nearer to the partner.
    const partner = thenMz[j]!;
    if (i > 0 && Math.abs(nowMz[i - 1]! - partner) < off) continue;
    if (i + 1 < count && Math.abs(nowMz[i + 1]! - partner) < off) continue;
    from[i] = j;
    ratio[matched] = nowLog[i]! - thenLog[j]!;
    distance[matched++] = (1e6 * off) / mz;
  }
  return matched;
}

/**
 * The value of middle rank (the upper of two). Values are counted into steps first and sought only within one: the
 * branches of a selection over all of them cost several times more.
 */
function middle(values: Float64Array, from: number, to: number): number {
  const rank = (to - from) >> 1;
  let lowest = STEPS;
  let highest = 0;
  for (let k = from; k < to; k++) {
    const step = Math.max(0, Math.min(STEPS - 1, (values[k]! - LEAST) * STEPS_PER_LOG)) | 0;
    at[k] = step;
    counts[step] = counts[step]! + 1;
    lowest = Math.min(lowest, step);
    highest = Math.max(highest, step);
  }
  let below = 0;
  let step = lowest;
  while (below + counts[step]! <= rank) below += counts[step++]!;
  let held = 0;
  for (let k = from; k < to; k++) if (at[k] === step) work[held++] = values[k]!;
  counts.fill(0, lowest, highest + 1);
  return select(work, held, rank - below);
}

/** Steps of 1/256 between ratios of e^-4 and e^4; what lies outside shares the outermost. */
const STEPS = 2048;
const LEAST = -4;
const STEPS_PER_LOG = STEPS / (-2 * LEAST);
const counts = new Uint16Array(STEPS);
const at = new Uint16Array(STRONGEST);
