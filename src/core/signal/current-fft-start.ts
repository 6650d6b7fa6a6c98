/**
 * The first pass of the transform in current-fft.ts: samples less their mean and times the window, taken as complex numbers (even
 * sample, odd sample), in transforms of 2, 4 or 8 numbers that stand equally far apart; each result goes to where the later
 * passes want it (decimation in time: Cooley and Tukey, 1965, Math Comput 19:297, from memory).
 */

/** Where the small transform of the numbers s, s + n, s + 2n … (n transforms) is stored, for passes of four after it. */
export function startPlaces(transforms: number, radix: number): Int32Array {
  const place = new Int32Array(transforms);
  for (let block = 0; block < transforms; block++) {
    let reversed = 0;
    for (let left = block, size = transforms; size > 1; left >>= 2, size >>= 2)
      reversed = 4 * reversed + (left & 3);
    place[reversed] = 2 * radix * block;
  }
  return place;
}

export type Samples = Float64Array | Float32Array;

export type StartPass = (
  x: Samples,
  from: number,
  mean: number,
  window: Float64Array,
  place: Int32Array,
  z: Float64Array,
) => void;

export function startByTwo(
  x: Samples,
  from: number,
  mean: number,
  w: Float64Array,
  place: Int32Array,
  z: Float64Array,
): void {
  const n = place.length;
  for (let s = 0; s < n; s++) {
    const o = place[s]!;
    const i = 2 * s;
    const j = i + 2 * n;
    const ar = (x[from + i]! - mean) * w[i]!;
    const ai = (x[from + i + 1]! - mean) * w[i + 1]!;
    const br = (x[from + j]! - mean) * w[j]!;
    const bi = (x[from + j + 1]! - mean) * w[j + 1]!;
    z[o] = ar + br;
    z[o + 1] = ai + bi;
    z[o + 2] = ar - br;
    z[o + 3] = ai - bi;
  }
}

export function startByFour(
  x: Samples,
  from: number,
  mean: number,
  w: Float64Array,
  place: Int32Array,
  z: Float64Array,
): void {
  const n = place.length;
  const apart = 2 * n;
  for (let s = 0; s < n; s++) {
    const o = place[s]!;
    const i = 2 * s;
    const j = i + apart;
    const k = j + apart;
    const l = k + apart;
    const ar = (x[from + i]! - mean) * w[i]!;
    const ai = (x[from + i + 1]! - mean) * w[i + 1]!;
    const br = (x[from + j]! - mean) * w[j]!;
    const bi = (x[from + j + 1]! - mean) * w[j + 1]!;
    const cr = (x[from + k]! - mean) * w[k]!;
    const ci = (x[from + k + 1]! - mean) * w[k + 1]!;
    const dr = (x[from + l]! - mean) * w[l]!;
    const di = (x[from + l + 1]! - mean) * w[l + 1]!;
    const er = ar + cr;
    const ei = ai + ci;
    const fr = ar - cr;
    const fi = ai - ci;
    const gr = br + dr;
    const gi = bi + di;
    const hr = br - dr;
    const hi = bi - di;
    z[o] = er + gr;
    z[o + 1] = ei + gi;
    z[o + 2] = fr + hi;
    z[o + 3] = fi - hr;
    z[o + 4] = er - gr;
    z[o + 5] = ei - gi;
    z[o + 6] = fr - hi;
    z[o + 7] = fi + hr;
  }
}

export function startByEight(
  x: Samples,
  from: number,
  mean: number,
  w: Float64Array,
  place: Int32Array,
  z: Float64Array,
): void {
  const n = place.length;
  const apart = 2 * n;
  for (let s = 0; s < n; s++) {
    const o = place[s]!;
    let i = 2 * s;
    let j = i + 2 * apart;
    let k = j + 2 * apart;
    let l = k + 2 * apart;
    // Numbers 0, 2, 4, 6.
    let ar = (x[from + i]! - mean) * w[i]!;
    let ai = (x[from + i + 1]! - mean) * w[i + 1]!;
    let br = (x[from + j]! - mean) * w[j]!;
    let bi = (x[from + j + 1]! - mean) * w[j + 1]!;
    let cr = (x[from + k]! - mean) * w[k]!;
    let ci = (x[from + k + 1]! - mean) * w[k + 1]!;
    let dr = (x[from + l]! - mean) * w[l]!;
    let di = (x[from + l + 1]! - mean) * w[l + 1]!;
    let er = ar + cr;
    let ei = ai + ci;
    let fr = ar - cr;
    let fi = ai - ci;
    let gr = br + dr;
    let gi = bi + di;
    let hr = br - dr;
    let hi = bi - di;
    const p0r = er + gr;
    const p0i = ei + gi;
    const p1r = fr + hi;
    const p1i = fi - hr;
    const p2r = er - gr;
    const p2i = ei - gi;
    const p3r = fr - hi;
    const p3i = fi + hr;
    // Numbers 1, 3, 5, 7, turned by eighths of a circle.
    i += apart;
    j += apart;
    k += apart;
    l += apart;
    ar = (x[from + i]! - mean) * w[i]!;
    ai = (x[from + i + 1]! - mean) * w[i + 1]!;
    br = (x[from + j]! - mean) * w[j]!;
    bi = (x[from + j + 1]! - mean) * w[j + 1]!;
    cr = (x[from + k]! - mean) * w[k]!;
    ci = (x[from + k + 1]! - mean) * w[k + 1]!;
    dr = (x[from + l]! - mean) * w[l]!;
    di = (x[from + l + 1]! - mean) * w[l + 1]!;
    er = ar + cr;
    ei = ai + ci;
    fr = ar - cr;
    fi = ai - ci;
    gr = br + dr;
    gi = bi + di;
    hr = br - dr;
    hi = bi - di;
    const q0r = er + gr;
    const q0i = ei + gi;
    const q1r = (fr + hi + (fi - hr)) * Math.SQRT1_2;
    const q1i = (fi - hr - (fr + hi)) * Math.SQRT1_2;
    const q2r = ei - gi;
    const q2i = gr - er;
    const q3r = (fi + hr - (fr - hi)) * Math.SQRT1_2;
    const q3i = -(fr - hi + (fi + hr)) * Math.SQRT1_2;
    z[o] = p0r + q0r;
    z[o + 1] = p0i + q0i;
    z[o + 2] = p1r + q1r;
    z[o + 3] = p1i + q1i;
    z[o + 4] = p2r + q2r;
    z[o + 5] = p2i + q2i;
    z[o + 6] = p3r + q3r;
    z[o + 7] = p3i + q3i;
    z[o + 8] = p0r - q0r;
    z[o + 9] = p0i - q0i;
    z[o + 10] = p1r - q1r;
    z[o + 11] = p1i - q1i;
    z[o + 12] = p2r - q2r;
    z[o + 13] = p2i - q2i;
    z[o + 14] = p3r - q3r;
    z[o + 15] = p3i - q3i;
  }
}
