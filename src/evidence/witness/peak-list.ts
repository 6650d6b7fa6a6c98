/**
 * The peaks of one spectrum in flat arrays that are used again for every scan: profile data are brought to their maxima,
 * and the strongest are marked. Cost is linear in the points, nothing is allocated once the arrays are large enough.
 * A profile peak becomes the centre of mass and the sum of its three highest points: good for following one peak from
 * scan to scan, not an area.
 */

/** Peaks whose ratio is followed from scan to scan. More add little: their common part is known to 2 % with 400. */
export const STRONGEST = 400;

export class PeakList {
  mz = new Float64Array(1024);
  intensity = new Float64Array(1024);
  count = 0;
  /** Positions of the STRONGEST peaks, rising in m/z. */
  readonly strong = new Int32Array(STRONGEST);
  strongCount = 0;
  #work = new Float64Array(1024);

  take(mz: Float64Array, intensity: Float64Array, profile: boolean): void {
    if (this.mz.length < mz.length) this.#grow(mz.length);
    this.count = profile ? this.#maxima(mz, intensity) : this.#points(mz, intensity);
    this.#mark();
  }

  #points(mz: Float64Array, intensity: Float64Array): number {
    const n = Math.min(mz.length, intensity.length);
    let count = 0;
    let last = Number.NEGATIVE_INFINITY;
    let sorted = true;
    for (let i = 0; i < n; i++) {
      const level = intensity[i]!;
      const at = mz[i]!;
      if (!(level > 0 && at > 0 && level < Number.POSITIVE_INFINITY)) continue;
      if (at < last) sorted = false;
      last = at;
      this.mz[count] = at;
      this.intensity[count++] = level;
    }
    if (!sorted) this.#sort(count);
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
      const work = this.#work;
      for (let i = 0; i < count; i++) work[i] = intensity[i]!;
      const limit = select(work, count, count - STRONGEST);
      for (let i = 0; i < count && at < STRONGEST; i++) if (intensity[i]! >= limit) strong[at++] = i;
    }
    this.strongCount = at;
  }

  #grow(length: number): void {
    const size = 2 ** Math.ceil(Math.log2(length));
    this.mz = new Float64Array(size);
    this.intensity = new Float64Array(size);
    this.#work = new Float64Array(size);
  }

  #sort(count: number): void {
    const order = Array.from({ length: count }, (_, i) => i).sort((a, b) => this.mz[a]! - this.mz[b]!);
    const mz = Float64Array.from(order, (i) => this.mz[i]!);
    const intensity = Float64Array.from(order, (i) => this.intensity[i]!);
    this.mz.set(mz);
    this.intensity.set(intensity);
  }
}

/** The value that stands at `rank` (0 the smallest) once sorted; reorders `values`. Hoare's selection. */
export function select(values: Float64Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const held = values[i]!;
        values[i++] = values[j]!;
        values[j--] = held;
      }
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return values[rank]!;
}
