/**
 * Power of a real stretch of samples by a complex transform of half its length (even samples as the real part, odd ones as
 * the imaginary part), unpacked by symmetry: half the work of a transform over all. Hann window, the mean taken out first.
 * One-sided density: the sum over bins times the bin width is the variance of the windowed stretch over the window's power.
 * Sizes are powers of two from 16.
 */
import FFT from 'fft.js';

export interface PowerPlan {
  size: number;
  /** Adds the density of samples[from … from + size) to `sum` (size/2 + 1 bins), in units² s for the rate given as 1. */
  add(samples: Float64Array, from: number, mean: number, sum: Float64Array): void;
}

export function powerPlan(size: number): PowerPlan {
  if (size < 16 || (size & (size - 1)) !== 0)
    throw new RangeError(`invalid size: ${size}; expected a power of two from 16`);
  const half = size / 2;
  const fft = new FFT(half);
  const packed = new Float64Array(size);
  const out = new Float64Array(size);
  const window = Float64Array.from(
    { length: size },
    (_, k) => 0.5 - 0.5 * Math.cos((2 * Math.PI * k) / size),
  );
  const scale = 2 / window.reduce((sum, w) => sum + w * w, 0);
  const cos = Float64Array.from({ length: half }, (_, k) => Math.cos((2 * Math.PI * k) / size));
  const sin = Float64Array.from({ length: half }, (_, k) => Math.sin((2 * Math.PI * k) / size));

  return {
    size,
    add(samples, from, mean, sum) {
      for (let k = 0; k < size; k++) packed[k] = (samples[from + k]! - mean) * window[k]!;
      fft.transform(out, packed);
      // Ends: sums of all even and all odd samples.
      const zero = out[0]! + out[1]!;
      const last = out[0]! - out[1]!;
      sum[0]! += (zero * zero * scale) / 2;
      sum[half]! += (last * last * scale) / 2;
      for (let k = 1, j = half - 1; k <= j; k++, j--) {
        const ar = out[2 * k]!;
        const ai = out[2 * k + 1]!;
        const br = out[2 * j]!;
        const bi = out[2 * j + 1]!;
        const er = (ar + br) / 2;
        const ei = (ai - bi) / 2;
        const or = (ai + bi) / 2;
        const oi = (br - ar) / 2;
        const c = cos[k]!;
        const s = sin[k]!;
        const tr = or * c + oi * s;
        const ti = oi * c - or * s;
        const xr = er + tr;
        const xi = ei + ti;
        sum[k]! += (xr * xr + xi * xi) * scale;
        if (j !== k) {
          const yr = er - tr;
          const yi = ei - ti;
          sum[j]! += (yr * yr + yi * yi) * scale;
        }
      }
    },
  };
}
