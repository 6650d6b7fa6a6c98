/** Averaged periodogram (Hann, half overlap, mean removed) and its drawing points, even in the logarithm of the frequency. */

const LENGTH = 8192;
const MOST_SEGMENTS = 60;

export interface Spectrum {
  f_Hz: number[];
  /** Amplitude density [A/√Hz]; the highest bin of each drawn point, so that lines stay. */
  density: number[];
}

export function welch(samples: Float32Array, rate_Hz: number, points: number): Spectrum {
  const n = Math.min(LENGTH, 2 ** Math.floor(Math.log2(samples.length)));
  const segments = Math.min(MOST_SEGMENTS, Math.floor((2 * samples.length) / n) - 1);
  const hop = segments > 1 ? (samples.length - n) / (segments - 1) : 0;
  const window = Float64Array.from({ length: n }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / n));
  const norm = window.reduce((sum, w) => sum + w * w, 0);
  const mean = samples.reduce((sum, v) => sum + v, 0) / samples.length;
  const power = new Float64Array(n / 2 + 1);
  for (let s = 0; s < segments; s++) {
    const from = Math.floor(s * hop);
    const re = Float64Array.from(window, (w, i) => w * (samples[from + i]! - mean));
    const im = new Float64Array(n);
    transform(re, im);
    for (let k = 0; k <= n / 2; k++)
      power[k]! += (2 * (re[k]! ** 2 + im[k]! ** 2)) / (rate_Hz * norm * segments);
  }
  const step = rate_Hz / n;
  const spectrum: Spectrum = { f_Hz: [], density: [] };
  const [low, high] = [Math.log(2), Math.log(n / 2 + 1)];
  let before = 2;
  for (let p = 1; p <= points; p++) {
    const to = Math.max(before, Math.round(Math.exp(low + ((high - low) * p) / points)));
    if (to === before) continue;
    let most = 0;
    let at = before;
    for (let k = before; k < to; k++)
      if (power[k]! > most) {
        most = power[k]!;
        at = k;
      }
    spectrum.f_Hz.push(at * step);
    spectrum.density.push(Math.sqrt(most));
    before = to;
  }
  return spectrum;
}

/** Radix 2, in place. */
function transform(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j]!, re[i]!];
      [im[i], im[j]] = [im[j]!, im[i]!];
    }
  }
  for (let size = 2; size <= n; size *= 2) {
    const half = size / 2;
    for (let k = 0; k < half; k++) {
      const angle = (-2 * Math.PI * k) / size;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      for (let i = k; i < n; i += size) {
        const j = i + half;
        const [x, y] = [re[j]! * c - im[j]! * s, re[j]! * s + im[j]! * c];
        [re[j], im[j]] = [re[i]! - x, im[i]! - y];
        [re[i], im[i]] = [re[i]! + x, im[i]! + y];
      }
    }
  }
}
