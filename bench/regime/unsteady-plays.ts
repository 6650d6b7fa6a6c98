/** Tuning traces of one jet that does not hold: it switches to a pulsating state and back, or leans this way and that. Sizes are judgement. */
import { wander } from '../../src/rehearsal/bench/wander.ts';
import type { Play, Scene } from './play.ts';
import { beating } from './pulse-plays.ts';

/** Jet and pulsating state in turn, as the rehearsal's unsteady stretch. */
export function switching(scene: Scene): Play {
  const { random, between } = scene;
  const beat = beating(scene, random.between(0.5, 0.95));
  const mean = beat.frequency_Hz * beat.charge_C;
  const play = telegraph(scene, between(0.004, 0.15), beat.frequency_Hz, () => mean);
  play.feature.repeats = { pulses_Hz: beat.frequency_Hz, ratio: scene.single_A / mean };
  return play;
}

/** As above, the pulsating state of another charge each time: no two visits carry the same mean. */
export function visiting(scene: Scene): Play {
  const { random, between, single_A } = scene;
  const { frequency_Hz } = beating(scene, 0.7);
  const low = single_A * random.between(0.35, 0.8);
  const scatter = random.between(0.05, 0.2);
  return telegraph(scene, between(0.004, 0.2), frequency_Hz, () =>
    Math.max(0.1 * single_A, low * (1 + scatter * random.normal())),
  );
}

function telegraph(scene: Scene, dwell_s: number, frequency_Hz: number, low: () => number): Play {
  const { random, single_A } = scene;
  const lower = low();
  let stands = random.unit() < 0.5;
  let left = 0;
  let mean = lower;
  let high = single_A;
  return {
    feature: {
      fastest_Hz: 1 / dwell_s,
      slowest_Hz: 0.5 / dwell_s,
      height_nA: 1e9 * (single_A - lower),
      lasts_s: dwell_s,
    },
    level_A: (single_A + lower) / 2,
    next(dt) {
      left -= dt;
      if (left <= 0) {
        left = -dwell_s * Math.log(1 - random.unit());
        stands = !stands;
        mean = low();
        high = single_A * (1 + 0.01 * random.normal());
      }
      if (stands) return { steady_A: high };
      return {
        carrier_C: 0,
        pulses: { frequency_Hz, charge_C: mean / frequency_Hz, jitter: 0.2, burst: undefined },
      };
    },
  };
}

/** A jet that leans this way and that: the level wanders, faster and slower parts together. */
export function wandering({ random, between, single_A }: Scene): Play {
  const sd = between(0.06, 0.2);
  const memory_s = between(0.004, 0.15);
  const slow = wander(sd, memory_s, random);
  const fast = wander(sd / 2, memory_s / 4, random);
  for (let k = 0; k < 200; k++) slow(memory_s / 20);
  const f = 1 / (2 * Math.PI * memory_s);
  return {
    feature: { fastest_Hz: f, slowest_Hz: f, height_nA: 2e9 * sd * single_A, lasts_s: memory_s },
    level_A: single_A,
    next: (dt) => ({ steady_A: single_A * Math.max(0.1, 1 + slow(dt) + fast(dt)) }),
  };
}
