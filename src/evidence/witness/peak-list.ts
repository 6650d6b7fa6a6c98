/**
 * The peaks of one spectrum in flat arrays that are used again for every scan: profile data are brought to their maxima,
 * and the strongest are marked. Cost is linear in the points, nothing is allocated once the arrays are large enough.
 * A profile peak becomes the centre of mass and the sum of its three highest points: good for following one peak from
 * scan to scan, not an area.
 */
import { select } from '../../core/signal/index.ts';
import { isSampledCurve } from './sampled-curve.ts';

/** Peaks whose ratio is followed from scan to scan. More add little: their common part is known to 2 % with 400. */
export const STRONGEST = 400;
/** Positive single-precision numbers stand in the order of their bits; of these the exponent and three more are kept. */
const STEP_BITS = 20;

export class PeakList {
  mz = new Float64Array(1024);
  intensity = new Float64Array(1024);
  count = 0;
  /** Positions of the STRONGEST peaks, rising in m/z. */
  readonly strong = new Int32Array(STRONGEST);
  strongCount = 0;
  #work = new Float64Array(1024);
  #rounded = new Float32Array(1024);
  #bits = new Uint32Array(this.#rounded.buffer);
  readonly #steps = new Uint32Array(2 ** (32 - STEP_BITS));

  take(mz: Float64Array, intensity: Float64Array, profile: boolean): void {
    if (this.mz.length < mz.length) this.#grow(mz.length);
    this.count = profile && isSampledCurve(mz) ? this.#maxima(mz, intensity) : this.#points(mz, intensity);
    this.#mark();
  }

  #points(mz: Float64Array, intensity: Float64Array): number {
    const n = Math.min(mz.length, intensity.length);
    const toMz = this.mz;
    const toLevel = this.intensity;
    let count = 0;
    let last = Number.NEGATIVE_INFINITY;
    let sorted = true;
    for (let i = 0; i < n; i++) {
      const level = intensity[i]!;
      const at = mz[i]!;
      if (!(level > 0 && at > 0 && level < Number.POSITIVE_INFINITY)) continue;
      if (at < last) sorted = false;
      last = at;
      toMz[count] = at;
      toLevel[count++] = level;
    }
    if (!sorted) sortBy(toMz, toLevel, 0, count - 1);
    return count;
  }

  #maxima(mz: Float64Array, intensity: Float64Array): number {
    const n = Math.min(mz.length, intensity.length);
    let count = 0;
    for (let i = 1; i + 1 < n; i++) {
      const level = intensity[i]!;
      const before = intensity[i - 1]!;
      const after = intensity[i + 1]!;
      if (!(level > 0 && level > before && level >= after && mz[i]! > mz[i - 1]! && mz[i + 1]! > mz[i]!))
        continue;
      const sum = level + Math.max(0, before) + Math.max(0, after);
      if (!(sum < Number.POSITIVE_INFINITY)) continue;
      const centre =
        (level * mz[i]! + Math.max(0, before) * mz[i - 1]! + Math.max(0, after) * mz[i + 1]!) / sum;
      if (count > 0 && centre < this.mz[count - 1]!) continue;
      this.mz[count] = centre;
      this.intensity[count++] = sum;
    }
    return count;
  }

  #mark(): void {
    const { count, intensity, strong } = this;
    let at = 0;
    if (count <= STRONGEST) {
      for (; at < count; at++) strong[at] = at;
    } else {
      const limit = this.#limit();
      for (let i = 0; i < count && at < STRONGEST; i++) if (intensity[i]! >= limit) strong[at++] = i;
    }
    this.strongCount = at;
  }

  /** Intensity of the weakest strong peak: counted into steps of an eighth of a power of two, sought only in one step. */
  #limit(): number {
    const { count, intensity } = this;
    const work = this.#work;
    const rounded = this.#rounded;
    const bits = this.#bits;
    const steps = this.#steps;
    let highest = 0;
    for (let i = 0; i < count; i++) {
      rounded[i] = intensity[i]!;
      const step = bits[i]! >>> STEP_BITS;
      steps[step] = steps[step]! + 1;
      highest = Math.max(highest, step);
    }
    let above = 0;
    let step = highest;
    while (above + steps[step]! < STRONGEST) above += steps[step--]!;
    let held = 0;
    for (let i = 0; i < count; i++) if (bits[i]! >>> STEP_BITS === step) work[held++] = intensity[i]!;
    steps.fill(0, 0, highest + 1);
    return select(work, held, held - (STRONGEST - above));
  }

  #grow(length: number): void {
    const size = 2 ** Math.ceil(Math.log2(length));
    this.mz = new Float64Array(size);
    this.intensity = new Float64Array(size);
    this.#work = new Float64Array(size);
    this.#rounded = new Float32Array(size);
    this.#bits = new Uint32Array(this.#rounded.buffer);
  }
}

/** Both arrays from `from` to `to` in the order of the first. Quicksort, insertion for short pieces. */
function sortBy(key: Float64Array, other: Float64Array, from: number, to: number): void {
  let low = from;
  let high = to;
  while (high - low > SHORT) {
    const pivot = key[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (key[i]! < pivot) i++;
      while (key[j]! > pivot) j--;
      if (i > j) break;
      const heldKey = key[i]!;
      const heldOther = other[i]!;
      key[i] = key[j]!;
      other[i++] = other[j]!;
      key[j] = heldKey;
      other[j--] = heldOther;
    }
    // The shorter side first, so that the depth stays at the logarithm.
    if (j - low < high - i) {
      sortBy(key, other, low, j);
      low = i;
    } else {
      sortBy(key, other, i, high);
      high = j;
    }
  }
  for (let i = low + 1; i <= high; i++) {
    const heldKey = key[i]!;
    const heldOther = other[i]!;
    let k = i - 1;
    while (k >= low && key[k]! > heldKey) {
      key[k + 1] = key[k]!;
      other[k + 1] = other[k]!;
      k--;
    }
    key[k + 1] = heldKey;
    other[k + 1] = heldOther;
  }
}

const SHORT = 24;
