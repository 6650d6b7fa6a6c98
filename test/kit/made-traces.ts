/**
 * Made current traces for tests: a regime's bare current [A], then noise, mains, a one-pole meter. Seeded. Invented from the words of
 * the signature table (relaxation pulses, spikes, trains, hops), not from the reader's own models.
 */
import { type RandomStream, randomStream } from '../../src/core/random.ts';
import { type CurrentStatistics, currentStream } from '../../src/core/signal/index.ts';

export interface MadeTrace {
  rate_Hz: number;
  length_s: number;
  seed: number;
  /** White noise of the electronics [A]. */
  noise?: number;
  mains?: { frequency_Hz: number; amplitude: number };
  /** One pole [Hz]. */
  meter_Hz?: number;
}

export type Bare = (random: RandomStream, samples: Float64Array, rate_Hz: number) => void;

export function madeTrace(bare: Bare, options: MadeTrace): Float64Array {
  const { rate_Hz, length_s, seed } = options;
  const samples = new Float64Array(Math.round(rate_Hz * length_s));
  const random = randomStream(seed, 'made trace');
  bare(random, samples, rate_Hz);
  if (options.mains) {
    const { frequency_Hz, amplitude } = options.mains;
    const phase = random.between(0, 6.28);
    for (let k = 0; k < samples.length; k++)
      samples[k]! += amplitude * Math.sin((2 * Math.PI * frequency_Hz * k) / rate_Hz + phase);
  }
  const noise = options.noise ?? 0.3e-9;
  for (let k = 0; k < samples.length; k++) samples[k]! += noise * random.normal();
  if (options.meter_Hz !== undefined) onePoleMeter(samples, rate_Hz, options.meter_Hz);
  return samples;
}

export function onePoleMeter(samples: Float64Array, rate_Hz: number, meter_Hz: number): void {
  const keep = Math.exp((-2 * Math.PI * meter_Hz) / rate_Hz);
  let y = samples[0]!;
  for (let k = 0; k < samples.length; k++) {
    y = keep * y + (1 - keep) * samples[k]!;
    samples[k] = y;
  }
}

export const flat =
  (level: number, drift = 0): Bare =>
  (_, samples) => {
    for (let k = 0; k < samples.length; k++) samples[k] = level * (1 + (drift * k) / samples.length);
  };

/** Relaxation pulses: a fast rise, an exponential fall, `duty` the fall time over the period, jittered in time and height. */
export const pulsating =
  (frequency: number, mean: number, duty = 0.25, jitter = 0.03): Bare =>
  (random, samples, rate) => {
    const fall = (duty / frequency) * rate;
    let next = (random.unit() / frequency) * rate;
    let height = 0;
    for (let k = 0; k < samples.length; k++) {
      height *= Math.exp(-1 / fall);
      while (k >= next) {
        // Each pulse carries the charge mean / frequency whatever the sampling.
        height += ((mean * rate * (1 - Math.exp(-1 / fall))) / frequency) * (1 + jitter * random.normal());
        next += (rate / frequency) * Math.max(0.2, 1 + jitter * random.normal());
      }
      samples[k] = height;
    }
  };

export const dripping =
  (perSecond: number, charge: number, width_s = 0.0005): Bare =>
  (random, samples, rate) => {
    pulsating(perSecond, charge * perSecond, width_s * perSecond, 0.08)(random, samples, rate);
  };

/** Trains of pulses between quiet stretches. */
export const bursts =
  (perSecond: number, frequency: number, mean: number, on = 0.4): Bare =>
  (random, samples, rate) => {
    pulsating(frequency, mean / on, 0.25, 0.05)(random, samples, rate);
    let edge = 0;
    let busy = true;
    for (let k = 0; k < samples.length; k++) {
      if (k >= edge) {
        busy = !busy;
        edge = k + (rate / perSecond) * (busy ? on : 1 - on) * random.between(0.7, 1.3);
      }
      if (!busy) samples[k] = 0;
    }
  };

/** Slow wander of `depth` (first-order, corner `corner_Hz`). */
export const unsteady =
  (level: number, depth: number, corner_Hz = 30): Bare =>
  (random, samples, rate) => {
    const keep = Math.exp((-2 * Math.PI * corner_Hz) / rate);
    const drive = Math.sqrt(1 - keep * keep) * depth;
    let wander = depth * random.normal();
    for (let k = 0; k < samples.length; k++) {
      wander = keep * wander + drive * random.normal();
      samples[k] = level * Math.max(0.05, 1 + wander);
    }
  };

/** Hops between n and n + 1 jets, each staying about `stay_s`. */
export const hopping =
  (single: number, jets: number, stay_s: number): Bare =>
  (random, samples, rate) => {
    let more = false;
    let edge = 0;
    for (let k = 0; k < samples.length; k++) {
      if (k >= edge) {
        more = !more;
        edge = k + rate * stay_s * random.between(0.5, 1.5);
      }
      samples[k] = single * Math.sqrt(more ? jets + 1 : jets);
    }
  };

/** A raised level with irregular tall spikes. */
export const discharge =
  (level: number, spikesPerSecond: number, height: number, width_s = 0.0001): Bare =>
  (random, samples, rate) => {
    let spike = 0;
    const keep = Math.exp(-1 / (width_s * rate));
    for (let k = 0; k < samples.length; k++) {
      spike *= keep;
      if (random.unit() < spikesPerSecond / rate) spike += height * -Math.log(1 - random.unit());
      samples[k] = level + spike;
    }
  };

/** A step to `factor` times the level at `at` of the length. */
export const step =
  (level: number, factor: number, at = 0.5): Bare =>
  (_, samples) => {
    for (let k = 0; k < samples.length; k++) samples[k] = k < at * samples.length ? level : level * factor;
  };

export function statisticsOf(samples: Float64Array, rate_Hz: number, window_s?: number): CurrentStatistics {
  const stream = currentStream({ rate_Hz, window_s, expected_samples: samples.length });
  stream.push(samples, samples.length);
  return stream.end();
}
