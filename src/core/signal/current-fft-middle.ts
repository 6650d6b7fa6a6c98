/** A pass in the middle of the transform in current-fft.ts: every four neighbouring transforms of `length` become one of four times that. */

export interface MiddlePass {
  length: number;
  /** Real and imaginary part of the turns of the second, third and fourth transform, number by number. */
  turns: Float64Array;
}

export function middlePass(length: number): MiddlePass {
  return { length, turns: turnsOf(length) };
}

/** Up to this length the turns of one number are read once for all transforms; beyond, neighbours are read together. */
const SHORT = 32;

/** exp(-2 pi i r k / (4 length)) for r = 1, 2, 3, for each k in turn. */
function turnsOf(length: number): Float64Array {
  const turns = new Float64Array(6 * length);
  for (let k = 0, at = 0; k < length; k++)
    for (let r = 1; r <= 3; r++, at += 2) {
      const angle = (Math.PI * r * k) / (2 * length);
      turns[at] = Math.cos(angle);
      turns[at + 1] = -Math.sin(angle);
    }
  return turns;
}

export function passMiddle(z: Float64Array, { length, turns: t }: MiddlePass): void {
  const step = 8 * length;
  const end = z.length;
  if (length <= SHORT) {
    for (let k = 0, e = 0; k < length; k++, e += 6) {
      const c1 = t[e]!;
      const s1 = t[e + 1]!;
      const c2 = t[e + 2]!;
      const s2 = t[e + 3]!;
      const c3 = t[e + 4]!;
      const s3 = t[e + 5]!;
      for (let at = 2 * k; at < end; at += step) fours(z, at, 2 * length, c1, s1, c2, s2, c3, s3);
    }
    return;
  }
  for (let block = 0; block < end; block += step)
    for (let e = 0, at = block; e < t.length; e += 6, at += 2)
      fours(z, at, 2 * length, t[e]!, t[e + 1]!, t[e + 2]!, t[e + 3]!, t[e + 4]!, t[e + 5]!);
}

/** The numbers at `i` and three times `apart` behind it. */
function fours(
  z: Float64Array,
  i: number,
  apart: number,
  c1: number,
  s1: number,
  c2: number,
  s2: number,
  c3: number,
  s3: number,
): void {
  const j = i + apart;
  const k = j + apart;
  const l = k + apart;
  const ar = z[i]!;
  const ai = z[i + 1]!;
  const xr = z[j]!;
  const xi = z[j + 1]!;
  const yr = z[k]!;
  const yi = z[k + 1]!;
  const vr = z[l]!;
  const vi = z[l + 1]!;
  const br = xr * c1 - xi * s1;
  const bi = xr * s1 + xi * c1;
  const cr = yr * c2 - yi * s2;
  const ci = yr * s2 + yi * c2;
  const dr = vr * c3 - vi * s3;
  const di = vr * s3 + vi * c3;
  const er = ar + cr;
  const ei = ai + ci;
  const fr = ar - cr;
  const fi = ai - ci;
  const gr = br + dr;
  const gi = bi + di;
  const hr = br - dr;
  const hi = bi - di;
  z[i] = er + gr;
  z[i + 1] = ei + gi;
  z[j] = fr + hi;
  z[j + 1] = fi - hr;
  z[k] = er - gr;
  z[k + 1] = ei - gi;
  z[l] = fr - hi;
  z[l + 1] = fi + hr;
}
