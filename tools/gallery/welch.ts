/** Averaged periodogram (Hann, half overlap, mean removed) and its drawing points, even in the logarithm of the frequency. */
import { powerPlan } from '../../src/core/signal/current-fft.ts';

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
  const mean = samples.reduce((sum, v) => sum + v, 0) / samples.length;
  const plan = powerPlan(n);
  const sum = new Float64Array(n / 2 + 1);
  for (let s = 0; s < segments; s++) plan.add(samples, Math.floor(s * hop), mean, sum);
  const power = sum.map((value) => value / (rate_Hz * segments));
  // The last bin has no mirror, so the plan counts it half; drawn it stands as its neighbours do.
  power[n / 2]! *= 2;
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
