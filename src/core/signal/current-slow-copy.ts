/**
 * A slow copy of a trace: mean and scatter of stretches of about 1 ms. Stretches double when the table is full, so memory is
 * bounded (67 MB) for any length.
 */

export interface SlowCopy {
  rate_Hz: number;
  mean: Float32Array;
  /** Standard deviation inside each stretch. */
  scatter: Float32Array;
  /** Time of each stretch [s]: gaps make it uneven. */
  start_s: Float64Array;
}

export interface SlowCopyBuilder {
  /** `time` is that of the first sample. */
  push(samples: Float64Array, count: number, time: number): void;
  gap(): void;
  end(): SlowCopy;
}

const SLOW_RATE_HZ = 1000;
const SLOW_MOST = 1 << 22;
const FIRST_ROOM = 4096;

export function slowCopyBuilder(rate_Hz: number): SlowCopyBuilder {
  let size = Math.max(1, Math.round(rate_Hz / SLOW_RATE_HZ));
  let mean = new Float32Array(FIRST_ROOM);
  let scatter = new Float32Array(FIRST_ROOM);
  let start = new Float64Array(FIRST_ROOM);
  let pieces = 0;
  let inside = 0;
  let sum = 0;
  let squares = 0;
  let begun = 0;

  function close(): void {
    if (pieces === mean.length) {
      if (pieces >= SLOW_MOST) halve();
      else {
        mean = wider(mean);
        scatter = wider(scatter);
        const times = new Float64Array(start.length * 2);
        times.set(start);
        start = times;
      }
    }
    const m = sum / inside;
    mean[pieces] = m;
    scatter[pieces] = Math.sqrt(Math.max(0, squares / inside - m * m));
    start[pieces] = begun;
    pieces++;
    inside = 0;
    sum = 0;
    squares = 0;
  }

  /** Into fresh arrays: the system gives them memory only where they are written, while the upper half of the old ones would stay. */
  function halve(): void {
    const fresh = {
      mean: new Float32Array(pieces),
      scatter: new Float32Array(pieces),
      start: new Float64Array(pieces),
    };
    for (let k = 0; k < pieces / 2; k++) {
      const a = mean[2 * k]!;
      const b = mean[2 * k + 1]!;
      fresh.scatter[k] = Math.sqrt(
        (scatter[2 * k]! ** 2 + scatter[2 * k + 1]! ** 2) / 2 + ((a - b) / 2) ** 2,
      );
      fresh.mean[k] = (a + b) / 2;
      fresh.start[k] = start[2 * k]!;
    }
    ({ mean, scatter, start } = fresh);
    pieces /= 2;
    size *= 2;
  }

  return {
    push(samples: Float64Array, count: number, time: number): void {
      for (let k = 0; k < count; k++) {
        const x = samples[k]!;
        if (inside === 0) begun = time + k / rate_Hz;
        if (Number.isNaN(x)) continue;
        sum += x;
        squares += x * x;
        inside++;
        if (inside >= size) close();
      }
    },
    gap(): void {
      if (inside > 0) close();
    },
    end(): SlowCopy {
      if (inside > size / 2) close();
      return {
        rate_Hz: rate_Hz / size,
        mean: mean.subarray(0, pieces),
        scatter: scatter.subarray(0, pieces),
        start_s: start.subarray(0, pieces),
      };
    },
  };
}

function wider(a: Float32Array): Float32Array<ArrayBuffer> {
  const b = new Float32Array(a.length * 2);
  b.set(a);
  return b;
}
