/**
 * The last pass of the transform in current-fft.ts, with all that follows it: four transforms become one, which is never stored.
 * Its numbers k and half - k together give those of the real samples (even and odd samples parted by symmetry, the odd ones
 * turned), whose squares are added. Numbers k, k + q, k + 2q, k + 3q (q a quarter) come from the same four, and their partners
 * from the four at q - k, so one step makes eight.
 */

export interface PowerPass {
  /** Real and imaginary part of the turns for k = 0 … q/2: of the odd samples, then of the second, third and fourth transform. */
  turns: Float64Array;
}

export function powerPass(half: number): PowerPass {
  const last = half / 8;
  const turns = new Float64Array(8 * (last + 1));
  for (let k = 0, at = 0; k <= last; k++)
    for (const angle of [0.5 * k, k, 2 * k, 3 * k]) {
      turns[at] = Math.cos((2 * Math.PI * angle) / half);
      turns[at + 1] = -Math.sin((2 * Math.PI * angle) / half);
      at += 2;
    }
  return { turns };
}

/** `z` holds four transforms one behind another. Adds to `sum` the power of the real samples at 0 … half, four times it between the ends and twice it at them. */
export function passPower(z: Float64Array, { turns: t }: PowerPass, sum: Float64Array): void {
  const half = z.length / 2;
  const q = half / 4;
  const apart = 2 * q;
  addEnds(z, sum);
  for (let k = 1, e = 8; 2 * k < q; k++, e += 8) {
    const c0 = t[e]!;
    const s0 = t[e + 1]!;
    const c1 = t[e + 2]!;
    const s1 = t[e + 3]!;
    const c2 = t[e + 4]!;
    const s2 = t[e + 5]!;
    const c3 = t[e + 6]!;
    const s3 = t[e + 7]!;
    let i = 2 * k;
    let ar = z[i]!;
    let ai = z[i + 1]!;
    let xr = z[i + apart]!;
    let xi = z[i + apart + 1]!;
    let yr = z[i + 2 * apart]!;
    let yi = z[i + 2 * apart + 1]!;
    let vr = z[i + 3 * apart]!;
    let vi = z[i + 3 * apart + 1]!;
    let br = xr * c1 - xi * s1;
    let bi = xr * s1 + xi * c1;
    let cr = yr * c2 - yi * s2;
    let ci = yr * s2 + yi * c2;
    let dr = vr * c3 - vi * s3;
    let di = vr * s3 + vi * c3;
    let er = ar + cr;
    let ei = ai + ci;
    let fr = ar - cr;
    let fi = ai - ci;
    let gr = br + dr;
    let gi = bi + di;
    let hr = br - dr;
    let hi = bi - di;
    const z0r = er + gr;
    const z0i = ei + gi;
    const z1r = fr + hi;
    const z1i = fi - hr;
    const z2r = er - gr;
    const z2i = ei - gi;
    const z3r = fr - hi;
    const z3i = fi + hr;
    // The four at q - k: their turns are those of k, mirrored.
    i = apart - i;
    ar = z[i]!;
    ai = z[i + 1]!;
    xr = z[i + apart]!;
    xi = z[i + apart + 1]!;
    yr = z[i + 2 * apart]!;
    yi = z[i + 2 * apart + 1]!;
    vr = z[i + 3 * apart]!;
    vi = z[i + 3 * apart + 1]!;
    br = xi * c1 - xr * s1;
    bi = -(xr * c1 + xi * s1);
    cr = -(yr * c2 + yi * s2);
    ci = yr * s2 - yi * c2;
    dr = vr * s3 - vi * c3;
    di = vr * c3 + vi * s3;
    er = ar + cr;
    ei = ai + ci;
    fr = ar - cr;
    fi = ai - ci;
    gr = br + dr;
    gi = bi + di;
    hr = br - dr;
    hi = bi - di;
    // An eighth of a circle on.
    const c = (c0 + s0) * Math.SQRT1_2;
    const s = (s0 - c0) * Math.SQRT1_2;
    addPair(z0r, z0i, fr - hi, fi + hr, c0, s0, sum, k, half - k);
    addPair(z1r, z1i, er - gr, ei - gi, c, s, sum, k + q, half - k - q);
    addPair(z2r, z2i, fr + hi, fi - hr, s0, -c0, sum, k + 2 * q, half - k - 2 * q);
    addPair(z3r, z3i, er + gr, ei + gi, s, -c, sum, k + 3 * q, half - k - 3 * q);
  }
  addMiddle(z, t, sum);
}

/** Number k of the transform and number half - k, the turn of the odd samples at k. */
function addPair(
  ar: number,
  ai: number,
  br: number,
  bi: number,
  c: number,
  s: number,
  sum: Float64Array,
  k: number,
  mirror: number,
): void {
  const er = ar + br;
  const ei = ai - bi;
  const or = ai + bi;
  const oi = br - ar;
  const tr = or * c - oi * s;
  const ti = oi * c + or * s;
  const xr = er + tr;
  const xi = ei + ti;
  const yr = er - tr;
  const yi = ei - ti;
  sum[k]! += xr * xr + xi * xi;
  sum[mirror]! += yr * yr + yi * yi;
}

/** k = 0: the numbers at 0, q, 2q, 3q and half. */
function addEnds(z: Float64Array, sum: Float64Array): void {
  const half = z.length / 2;
  const q = half / 4;
  const apart = 2 * q;
  const er = z[0]! + z[2 * apart]!;
  const ei = z[1]! + z[2 * apart + 1]!;
  const fr = z[0]! - z[2 * apart]!;
  const fi = z[1]! - z[2 * apart + 1]!;
  const gr = z[apart]! + z[3 * apart]!;
  const gi = z[apart + 1]! + z[3 * apart + 1]!;
  const hr = z[apart]! - z[3 * apart]!;
  const hi = z[apart + 1]! - z[3 * apart + 1]!;
  const even = er + gr;
  const odd = ei + gi;
  sum[0]! += 2 * (even + odd) * (even + odd);
  sum[half]! += 2 * (even - odd) * (even - odd);
  addPair(fr + hi, fi - hr, fr - hi, fi + hr, Math.SQRT1_2, -Math.SQRT1_2, sum, q, 3 * q);
  sum[2 * q]! += 4 * ((er - gr) * (er - gr) + (ei - gi) * (ei - gi));
}

/** k = q/2, which is its own mirror. */
function addMiddle(z: Float64Array, t: Float64Array, sum: Float64Array): void {
  const half = z.length / 2;
  const q = half / 4;
  const k = q / 2;
  const e = 8 * k;
  const apart = 2 * q;
  const ar = z[q]!;
  const ai = z[q + 1]!;
  const xr = z[q + apart]!;
  const xi = z[q + apart + 1]!;
  const yr = z[q + 2 * apart]!;
  const yi = z[q + 2 * apart + 1]!;
  const vr = z[q + 3 * apart]!;
  const vi = z[q + 3 * apart + 1]!;
  const br = xr * t[e + 2]! - xi * t[e + 3]!;
  const bi = xr * t[e + 3]! + xi * t[e + 2]!;
  const cr = yr * t[e + 4]! - yi * t[e + 5]!;
  const ci = yr * t[e + 5]! + yi * t[e + 4]!;
  const dr = vr * t[e + 6]! - vi * t[e + 7]!;
  const di = vr * t[e + 7]! + vi * t[e + 6]!;
  const er = ar + cr;
  const ei = ai + ci;
  const fr = ar - cr;
  const fi = ai - ci;
  const gr = br + dr;
  const gi = bi + di;
  const hr = br - dr;
  const hi = bi - di;
  const c = t[e]!;
  const s = t[e + 1]!;
  addPair(er + gr, ei + gi, fr - hi, fi + hr, c, s, sum, k, half - k);
  addPair(
    fr + hi,
    fi - hr,
    er - gr,
    ei - gi,
    (c + s) * Math.SQRT1_2,
    (s - c) * Math.SQRT1_2,
    sum,
    k + q,
    half - k - q,
  );
}
