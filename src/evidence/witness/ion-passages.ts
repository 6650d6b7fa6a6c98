/**
 * The strongest ions of a run in steps of ten seconds, linked into passages: what another run of the same method is held
 * against. A passage is one ion (m/z within the tolerance) over neighbouring steps; background ions give long ones,
 * eluting ions short ones, and ions of a single step are dropped. Four scans of a step are looked at, no more.
 * When it breaks: ions closer than the tolerance are one; whenever a run outgrows 720 steps every second one is given up
 * and steps are twice as long.
 */
import { select } from '../../core/signal/index.ts';
import type { PeakList } from './peak-list.ts';

/** Length of a step, longer than the spacing of MS1 scans in common methods and shorter than a nanoLC peak. Judgement. */
export const STEP_S = 10;
const SCANS_A_STEP = 4;
/** Ions kept of a step. 60 and 120 gave the same scatter of the ratio of two real runs (computed). */
const KEPT_IONS = 60;
/** An ion has to stand in this share of the scans of a step. */
const PRESENCE = 0.5;
const MOST_STEPS = 720;
const MOST_OPEN = 2048;
/** Steps a passage may miss and go on. */
const GAP_STEPS = 1;
/** Steps of ten seconds for which a reading's numbers are rounded: to 0.1 ppm or so and to 1 %. */
const MZ_DIGITS = 1e4;
const LOG_DIGITS = 100;

/** JSON-ready; `log` is ln of the mean intensity in each step, null where a step was missed. */
export interface IonPassage {
  mz: number;
  first: number;
  log: (number | null)[];
}

export interface IonsOverTime {
  start_s: number;
  step_s: number;
  steps: number;
  /** Distance within which two ions are the same [ppm]. */
  tolerance_ppm: number;
  passages: IonPassage[];
}

interface Step {
  at: number;
  mz: Float64Array;
  log: Float64Array;
}

export class IonSteps {
  #steps: Step[] = [];
  #step_s = STEP_S;
  #start_s = Number.NaN;
  #at = 0;
  /** Time before which the open step takes no further scan. */
  #next_s = Number.NEGATIVE_INFINITY;
  #scans = 0;
  #count = 0;
  #mz = new Float64Array(MOST_OPEN);
  #sum = new Float64Array(MOST_OPEN);
  #hits = new Uint8Array(MOST_OPEN);
  #spareMz = new Float64Array(MOST_OPEN);
  #spareSum = new Float64Array(MOST_OPEN);
  #spareHits = new Uint8Array(MOST_OPEN);

  take(time_s: number, list: PeakList, tolerance_ppm: number): void {
    if (Number.isNaN(this.#start_s)) this.#start_s = time_s;
    const since_s = time_s - this.#start_s;
    // Times that step back are sorted out elsewhere; here they would end a step for good.
    if (!(Number.isFinite(since_s) && Math.floor(since_s / this.#step_s) >= this.#at)) return;
    if (Math.floor(since_s / this.#step_s) > this.#at) {
      this.#close();
      while (since_s / this.#step_s >= MOST_STEPS) this.#thin();
      this.#at = Math.floor(since_s / this.#step_s);
      this.#next_s = Number.NEGATIVE_INFINITY;
    }
    if (time_s < this.#next_s) return;
    this.#next_s = time_s + this.#step_s / SCANS_A_STEP;
    this.#scans++;
    this.#merge(list, tolerance_ppm * 1e-6);
  }

  finish(tolerance_ppm: number): IonsOverTime {
    this.#close();
    return {
      start_s: Number.isNaN(this.#start_s) ? 0 : this.#start_s,
      step_s: this.#step_s,
      steps: (this.#steps.at(-1)?.at ?? -1) + 1,
      tolerance_ppm,
      passages: linked(this.#steps, tolerance_ppm * 1e-6),
    };
  }

  /** Both lists rise in m/z: one pass. */
  #merge(list: PeakList, share: number): void {
    const { mz: peaks, intensity, strong, strongCount } = list;
    const mzs = this.#mz;
    const sums = this.#sum;
    const hits = this.#hits;
    const toMz = this.#spareMz;
    const toSum = this.#spareSum;
    const toHits = this.#spareHits;
    const count = this.#count;
    let k = 0;
    let out = 0;
    for (let s = 0; s < strongCount && out < MOST_OPEN; s++) {
      const i = strong[s]!;
      const mz = peaks[i]!;
      const level = intensity[i]!;
      const low = mz - share * mz;
      while (k < count && mzs[k]! < low && out < MOST_OPEN) {
        toMz[out] = mzs[k]!;
        toSum[out] = sums[k]!;
        toHits[out++] = hits[k++]!;
      }
      if (out === MOST_OPEN) break;
      if (k < count && mzs[k]! <= mz + share * mz) {
        const sum = sums[k]! + level;
        toMz[out] = (mzs[k]! * sums[k]! + mz * level) / sum;
        toSum[out] = sum;
        toHits[out++] = hits[k++]! + 1;
      } else {
        toMz[out] = mz;
        toSum[out] = level;
        toHits[out++] = 1;
      }
    }
    while (k < count && out < MOST_OPEN) {
      toMz[out] = mzs[k]!;
      toSum[out] = sums[k]!;
      toHits[out++] = hits[k++]!;
    }
    this.#count = out;
    this.#mz = toMz;
    this.#sum = toSum;
    this.#hits = toHits;
    this.#spareMz = mzs;
    this.#spareSum = sums;
    this.#spareHits = hits;
  }

  #close(): void {
    if (this.#scans === 0) return;
    const scans = this.#scans;
    const sums = this.#sum;
    const hits = this.#hits;
    const least = PRESENCE * scans;
    const work = this.#spareSum;
    let standing = 0;
    for (let k = 0; k < this.#count; k++) if (hits[k]! >= least) work[standing++] = sums[k]!;
    const weakest = standing > KEPT_IONS ? select(work, standing, standing - KEPT_IONS) : 0;
    const kept: number[] = [];
    for (let k = 0; k < this.#count && kept.length < KEPT_IONS; k++)
      if (hits[k]! >= least && sums[k]! >= weakest) kept.push(k);
    this.#steps.push({
      at: this.#at,
      mz: Float64Array.from(kept, (k) => this.#mz[k]!),
      log: Float64Array.from(kept, (k) => Math.log(sums[k]! / scans)),
    });
    this.#count = 0;
    this.#scans = 0;
  }

  #thin(): void {
    this.#steps = this.#steps
      .filter((step) => step.at % 2 === 0)
      .map((step) => ({ ...step, at: step.at / 2 }));
    this.#step_s *= 2;
  }
}

function linked(steps: readonly Step[], share: number): IonPassage[] {
  interface Open {
    mz: number;
    first: number;
    last: number;
    log: (number | null)[];
  }
  const done: IonPassage[] = [];
  const end = ({ mz, first, last, log }: Open): void => {
    if (last > first) done.push({ mz: Math.round(mz * MZ_DIGITS) / MZ_DIGITS, first, log });
  };
  let open: Open[] = [];
  for (const step of steps) {
    const next: Open[] = [];
    let k = 0;
    const pass = (): void => {
      const one = open[k++]!;
      if (step.at - one.last <= GAP_STEPS) next.push(one);
      else end(one);
    };
    for (let i = 0; i < step.mz.length; i++) {
      const mz = step.mz[i]!;
      const log = Math.round(LOG_DIGITS * step.log[i]!) / LOG_DIGITS;
      while (k < open.length && open[k]!.mz < mz - share * mz) pass();
      const one = open[k];
      if (one && Math.abs(one.mz - mz) <= share * mz && step.at - one.last <= GAP_STEPS + 1) {
        while (one.log.length < step.at - one.first) one.log.push(null);
        one.log.push(log);
        one.last = step.at;
        one.mz += (mz - one.mz) / one.log.length;
        next.push(one);
        k++;
      } else next.push({ mz, first: step.at, last: step.at, log: [log] });
    }
    while (k < open.length) pass();
    open = next.sort((a, b) => a.mz - b.mz);
  }
  open.forEach(end);
  return done.sort((a, b) => a.first - b.first || a.mz - b.mz);
}
