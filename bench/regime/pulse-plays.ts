/**
 * Tuning traces of a meniscus that pulses: throughout, in even trains, or in trains of uneven length that rest on a level (the wet face
 * leaks on between them). Sizes beyond the rehearsal's are judgement.
 */
import { pulsation } from '../../src/rehearsal/bench/pulsation.ts';
import type { Play, Scene } from './play.ts';

export function beating(scene: Scene, depth: number) {
  const { truth, flow, random, between } = scene;
  const minimum = random.unit() < 0.2 ? flow * between(1, 5) : flow / 2;
  return pulsation(truth.liquid, truth.contactRadius, flow, minimum, depth);
}

export function pulsating(scene: Scene): Play {
  const { random, between } = scene;
  const beat = beating(scene, random.between(0.35, 0.9));
  const jitter = between(0.01, 0.12);
  const mean = beat.frequency_Hz * beat.charge_C;
  return {
    feature: {
      fastest_Hz: beat.frequency_Hz,
      slowest_Hz: beat.frequency_Hz,
      height_nA: 3e9 * mean,
      lasts_s: 0.3 / beat.frequency_Hz,
    },
    level_A: mean,
    next: () => ({ pulses: { ...beat, jitter, burst: undefined }, carrier_C: 0 }),
  };
}

export function bursting(scene: Scene): Play {
  const { random, between } = scene;
  const beat = beating(scene, random.between(0.1, 0.6));
  const duty = random.between(0.2, 0.6);
  const period_s = Math.max(1 / between(8, 400), 6 / duty / beat.frequency_Hz);
  const mean = beat.frequency_Hz * beat.charge_C;
  const base = restOf(mean, scene);
  return {
    feature: {
      fastest_Hz: beat.frequency_Hz,
      slowest_Hz: 1 / period_s,
      height_nA: 3e9 * mean,
      lasts_s: 0.3 / beat.frequency_Hz,
    },
    level_A: base + mean * duty,
    next: () => ({
      steady_A: base,
      pulses: { ...beat, jitter: 0.1, burst: { period_s, duty } },
      carrier_C: 0,
    }),
  };
}

/** Trains and quiet of uneven length, whole ticks each. */
export function fitfulBursts(scene: Scene): Play {
  const { random, between } = scene;
  const beat = beating(scene, random.between(0.1, 0.6));
  const duty = random.between(0.2, 0.55);
  const period_s = Math.max(1 / between(15, 250), 6 / duty / beat.frequency_Hz);
  const scatter = random.between(0.05, 0.35);
  const mean = beat.frequency_Hz * beat.charge_C;
  const base = restOf(mean, scene);
  let busy = false;
  let left = 0;
  return {
    feature: {
      fastest_Hz: beat.frequency_Hz,
      slowest_Hz: 1 / period_s,
      height_nA: 3e9 * mean,
      lasts_s: 0.3 / beat.frequency_Hz,
    },
    level_A: base + mean * duty,
    next(dt) {
      left -= dt;
      if (left <= 0) {
        busy = !busy;
        left += period_s * (busy ? duty : 1 - duty) * Math.max(0.3, 1 + scatter * random.normal());
      }
      return { steady_A: base, pulses: busy ? { ...beat, jitter: 0.1, burst: undefined } : undefined };
    },
  };
}

function restOf(mean: number, { random, between }: Scene): number {
  return random.unit() < 0.5 ? mean * between(0.005, 0.08) : 0;
}
