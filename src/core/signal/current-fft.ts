/**
 * Power of a real stretch of samples by a complex transform of half its length (even samples as the real part, odd ones as the
 * imaginary part), parted by symmetry. Hann window, the mean taken out first. Passes of four; windowing and mean belong to the first, parting and
 * squares to the last, so each number is written once a pass and nothing is copied.
 * One-sided density: the sum over bins times the bin width is the variance of the windowed stretch over the window's power.
 * Sizes are powers of two from 16.
 */
import { type MiddlePass, middlePass, passMiddle } from './current-fft-middle.ts';
import { passPower, powerPass } from './current-fft-power.ts';
import {
  type Samples,
  type StartPass,
  startByEight,
  startByFour,
  startByTwo,
  startPlaces,
} from './current-fft-start.ts';

export interface PowerPlan {
  size: number;
  /** Adds the density of samples[from … from + size) to `sum` (size/2 + 1 bins), in units² over the unit of the rate. */
  add(samples: Samples, from: number, mean: number, sum: Float64Array): void;
}

/** `rate_Hz`: 1 leaves the density for the caller to divide. */
export function powerPlan(size: number, rate_Hz = 1): PowerPlan {
  if (size < 16 || (size & (size - 1)) !== 0)
    throw new RangeError(`invalid size: ${size}; expected a power of two from 16`);
  const half = size / 2;
  const [radix, start] = startOf(half / 4);
  const place = startPlaces(half / radix, radix);
  const middle: MiddlePass[] = [];
  for (let length = radix; 4 * length < half; length *= 4) middle.push(middlePass(length));
  const last = powerPass(half);
  const hann = Float64Array.from({ length: size }, (_, k) => 0.5 - 0.5 * Math.cos((2 * Math.PI * k) / size));
  // One side of the spectrum takes the power of both; of the fourfold power of the last pass a half is meant.
  const scale = Math.sqrt(2 / (rate_Hz * hann.reduce((sum, w) => sum + w * w, 0))) / 2;
  const window = hann.map((w) => w * scale);
  const z = new Float64Array(size);
  return {
    size,
    add(samples, from, mean, sum) {
      start(samples, from, mean, window, place, z);
      for (const pass of middle) passMiddle(z, pass);
      passPower(z, last, sum);
    },
  };
}

/** The first pass that leaves passes of four to reach `quarter`. */
function startOf(quarter: number): [number, StartPass] {
  if (quarter === 2) return [2, startByTwo];
  return Math.log2(quarter) % 2 === 0 ? [4, startByFour] : [8, startByEight];
}
