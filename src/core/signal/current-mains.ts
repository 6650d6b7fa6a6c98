/**
 * Mains pick-up in one window: sines of 50 Hz and of 60 Hz with their harmonics, each by its product with the window's samples
 * under a Hann window. The family with more power is told; windows shorter than five periods cannot tell it from slow wander: none.
 * Harmonics up to the sixth; a pulse train at just a mains frequency looks the same.
 */
import type { Mains } from './current-window.ts';

const HARMONICS = 6;
const LEAST_PERIODS = 5;
/** A line must stand above the mean power at four places beside it by this factor: noise does so once in a thousand times. */
const CLEAR = 20;
/** In widths of the window's main lobe. */
const BESIDE = [-1.8, -1.15, 1.15, 1.8];

export interface MainsFit extends Mains {
  lines: { frequency_Hz: number; cos: number; sin: number }[];
}

export function mainsOf(
  samples: Float64Array,
  count: number,
  rate_Hz: number,
  mean: number,
  variance: number,
): MainsFit | null {
  if (!(variance > 0) || count / rate_Hz < LEAST_PERIODS / 50 || rate_Hz < 4 * 60) return null;
  // The slow part is enough: sums over stretches of about 1 ms.
  const fold = Math.max(1, Math.floor(rate_Hz / 1500));
  const length = Math.floor(count / fold);
  const slow = new Float64Array(length);
  let weights = 0;
  for (let k = 0; k < length; k++) {
    let sum = 0;
    for (let j = k * fold; j < (k + 1) * fold; j++) sum += samples[j]!;
    const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * (k + 0.5)) / length);
    slow[k] = (sum / fold - mean) * w;
    weights += w;
  }
  const slowRate = rate_Hz / fold;
  const resolution = (2 * slowRate) / length;
  let best: MainsFit | null = null;
  for (const base_Hz of [50, 60] as const) {
    let power = 0;
    let beside = 0;
    let amplitude = 0;
    const lines: MainsFit['lines'] = [];
    for (let h = 1; h <= HARMONICS && h * base_Hz < 0.45 * slowRate; h++) {
      const line = product(slow, (h * base_Hz) / slowRate, weights);
      const own = (line.cos ** 2 + line.sin ** 2) / 2;
      let near = 0;
      for (const away of BESIDE) {
        const side = product(slow, (h * base_Hz + away * resolution) / slowRate, weights);
        near += (side.cos ** 2 + side.sin ** 2) / 2 / BESIDE.length;
      }
      if (own < CLEAR * near) continue;
      power += own;
      beside += near;
      if (h <= 2) amplitude = Math.max(amplitude, Math.sqrt(2 * own));
      lines.push({ frequency_Hz: h * base_Hz, ...line });
    }
    if (lines.length === 0 || !lines.some((line) => line.frequency_Hz <= 2 * base_Hz)) continue;
    const share = Math.min(1, (power - beside) / variance);
    if (!best || share > best.share) best = { base_Hz, amplitude, share, lines };
  }
  return best;
}

function product(slow: Float64Array, frequency: number, weights: number): { cos: number; sin: number } {
  const turn = 2 * Math.PI * frequency;
  // Rotation step by step: a table of angles would cost more than it keeps.
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  let re = Math.cos(turn / 2);
  let im = Math.sin(turn / 2);
  let cos = 0;
  let sin = 0;
  for (let k = 0; k < slow.length; k++) {
    cos += slow[k]! * re;
    sin += slow[k]! * im;
    const next = re * c - im * s;
    im = im * c + re * s;
    re = next;
  }
  return { cos: (2 * cos) / weights, sin: (2 * sin) / weights };
}

/** Takes the fitted lines out of the samples, in place. */
export function withoutMains(samples: Float64Array, count: number, rate_Hz: number, fit: MainsFit): void {
  const fold = Math.max(1, Math.floor(rate_Hz / 1500));
  for (const { frequency_Hz, cos, sin } of fit.lines) {
    const turn = (2 * Math.PI * frequency_Hz) / rate_Hz;
    // The mean over a stretch shrinks a sine by this much.
    const x = (turn * fold) / 2;
    const shrunk = x > 0 ? Math.sin(x) / x : 1;
    const c = Math.cos(turn);
    const s = Math.sin(turn);
    let re = Math.cos(turn / 2);
    let im = Math.sin(turn / 2);
    for (let k = 0; k < count; k++) {
      samples[k]! -= (cos * re + sin * im) / shrunk;
      const next = re * c - im * s;
      im = im * c + re * s;
      re = next;
    }
  }
}

export function isMains(frequency_Hz: number, width_Hz: number): boolean {
  for (const base of [50, 60]) {
    const h = Math.round(frequency_Hz / base);
    if (h >= 1 && h <= HARMONICS && Math.abs(frequency_Hz - h * base) <= width_Hz) return true;
  }
  return false;
}
