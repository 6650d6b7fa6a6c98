/** Tuning traces that a level alone names: nothing, a leak that creeps, one jet with its own drift. Sizes are judgement. */
import { wander } from '../../src/rehearsal/bench/wander.ts';
import type { Play, Scene } from './play.ts';
import { BY_LEVEL } from './proof-trace.ts';

export function level(mean: number, { length_s }: Scene, creep: number): Play {
  let t = 0;
  return {
    feature: BY_LEVEL,
    level_A: mean,
    next(dt) {
      t += dt;
      return { steady_A: mean * (1 + creep * (t / length_s - 0.5)) };
    },
  };
}

/** One jet: drifts by its own half percent, and with the flow by some percent over the trace. */
export function jet(mean: number, { length_s, random, between }: Scene): Play {
  const own = wander(between(0.002, 0.01), between(0.5, 5), random);
  const drift = 0.04 * random.normal();
  let t = 0;
  return {
    feature: BY_LEVEL,
    level_A: mean,
    next(dt) {
      t += dt;
      return { steady_A: mean * (1 + own(dt) + drift * (t / length_s - 0.5)) };
    },
  };
}
