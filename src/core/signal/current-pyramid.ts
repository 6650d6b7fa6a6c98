/**
 * Lowest and highest sample of every stretch, on levels that each halve the one before by FOLD: a view of any width is drawn from
 * about as many numbers as it has pixels, and no spike is lost. The finest stretch doubles when the table would outgrow
 * MOST_BINS, so memory is bounded (48 MB) for any length. A stretch without samples holds NaN.
 */
export interface PyramidView {
  /** Index of the first sample of the first stretch, and samples in each. */
  first: number;
  samples: number;
  low: Float32Array;
  high: Float32Array;
}

export interface Pyramid {
  /** Samples in the finest stretch. */
  finest: number;
  samples: number;
  low: Float32Array;
  high: Float32Array;
  /** Stretches that cover [from, to) in at most `most` pieces. */
  view(from: number, to: number, most: number): PyramidView;
}

const FIRST_STRETCH = 32;
const MOST_BINS = 1 << 22;
const FOLD = 4;

export interface PyramidBuilder {
  push(samples: Float64Array, count: number): void;
  end(): Pyramid;
}

export function pyramidBuilder(mostBins = MOST_BINS): PyramidBuilder {
  let stretch = FIRST_STRETCH;
  let low = new Float32Array(1024);
  let high = new Float32Array(1024);
  let bins = 0;
  let inside = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  let samples = 0;

  function close(): void {
    if (bins === low.length) {
      if (bins >= mostBins) {
        halve();
        return;
      }
      low = grown(low);
      high = grown(high);
    }
    low[bins] = least > most ? Number.NaN : least;
    high[bins] = least > most ? Number.NaN : most;
    bins++;
    inside = 0;
    least = Number.POSITIVE_INFINITY;
    most = Number.NEGATIVE_INFINITY;
  }

  /**
   * The open stretch becomes the first half of one twice as long. Into fresh arrays: the system gives them memory only where they are
   * written, while the upper half of the old ones would stay.
   */
  function halve(): void {
    const halfLow = new Float32Array(low.length);
    const halfHigh = new Float32Array(high.length);
    for (let k = 0; k < bins / 2; k++) {
      halfLow[k] = lower(low[2 * k]!, low[2 * k + 1]!);
      halfHigh[k] = higher(high[2 * k]!, high[2 * k + 1]!);
    }
    low = halfLow;
    high = halfHigh;
    bins /= 2;
    stretch *= 2;
  }

  return {
    push(from, count) {
      samples += count;
      let k = 0;
      while (k < count) {
        const end = Math.min(count, k + stretch - inside);
        inside += end - k;
        for (; k < end; k++) {
          const x = from[k]!;
          if (x < least) least = x;
          if (x > most) most = x;
        }
        if (inside === stretch) close();
      }
    },
    end() {
      if (inside > 0) {
        const before = bins;
        close();
        // The table was full: the halved one has room.
        if (bins < before) close();
      }
      return pyramid(stretch, samples, low.subarray(0, bins), high.subarray(0, bins));
    },
  };
}

function pyramid(finest: number, samples: number, low: Float32Array, high: Float32Array): Pyramid {
  const levels: { low: Float32Array; high: Float32Array }[] = [{ low, high }];
  while (levels.at(-1)!.low.length > FOLD * 64) {
    const below = levels.at(-1)!;
    const length = Math.ceil(below.low.length / FOLD);
    const next = { low: new Float32Array(length), high: new Float32Array(length) };
    for (let k = 0; k < length; k++) {
      let least = below.low[k * FOLD]!;
      let most = below.high[k * FOLD]!;
      for (let j = k * FOLD + 1; j < Math.min(below.low.length, (k + 1) * FOLD); j++) {
        least = lower(least, below.low[j]!);
        most = higher(most, below.high[j]!);
      }
      next.low[k] = least;
      next.high[k] = most;
    }
    levels.push(next);
  }
  return {
    finest,
    samples,
    low,
    high,
    view(from, to, most) {
      const wanted = Math.max(1, (to - from) / Math.max(1, most));
      let level = 0;
      let size = finest;
      while (level + 1 < levels.length && size * FOLD <= wanted) {
        level++;
        size *= FOLD;
      }
      const join = Math.max(1, Math.ceil(wanted / size));
      const { low: l, high: h } = levels[level]!;
      const start = Math.max(0, Math.floor(from / size));
      const end = Math.min(l.length, Math.ceil(to / size));
      const pieces = Math.max(0, Math.ceil((end - start) / join));
      const view = {
        first: start * size,
        samples: size * join,
        low: new Float32Array(pieces),
        high: new Float32Array(pieces),
      };
      for (let k = 0; k < pieces; k++) {
        let least = Number.NaN;
        let top = Number.NaN;
        for (let j = start + k * join; j < Math.min(end, start + (k + 1) * join); j++) {
          least = lower(least, l[j]!);
          top = higher(top, h[j]!);
        }
        view.low[k] = least;
        view.high[k] = top;
      }
      return view;
    },
  };
}

function lower(a: number, b: number): number {
  return Number.isNaN(a) ? b : Number.isNaN(b) ? a : Math.min(a, b);
}

function higher(a: number, b: number): number {
  return Number.isNaN(a) ? b : Number.isNaN(b) ? a : Math.max(a, b);
}

function grown(a: Float32Array): Float32Array<ArrayBuffer> {
  const wider = new Float32Array(a.length * 2);
  wider.set(a);
  return wider;
}
