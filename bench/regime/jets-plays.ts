/**
 * Tuning traces of several jets at a shared flow, sqrt(n) of one: they come and go, are born and stay, are lost once and for all, or fall by one
 * for a moment once or twice in a short trace. Sizes are judgement.
 */
import { wander } from '../../src/rehearsal/bench/wander.ts';
import type { Play, Scene } from './play.ts';
import { BY_LEVEL } from './proof-trace.ts';

/** Jets that are born and die: two numbers in turn, or a walk over several; each level is that of its number, to its own small drift. */
export function comingAndGoing({ random, between, single_A, length_s }: Scene): Play {
  const most = 2 + random.index(3);
  const walk = random.unit() < 0.4;
  const dwell_s = between(0.08, Math.min(1, length_s / 6));
  const share = random.between(0.2, 0.8);
  const own = wander(between(0.002, 0.008), 2, random);
  let n = most;
  let left = 0;
  const low = Math.sqrt(most - 1);
  return {
    feature: {
      fastest_Hz: 1 / (2 * dwell_s * Math.min(share, 1 - share)),
      slowest_Hz: 0.5 / dwell_s,
      height_nA: 1e9 * single_A * (Math.sqrt(most) - low),
      lasts_s: 2 * dwell_s * Math.min(share, 1 - share),
    },
    level_A: single_A * Math.sqrt(most - 0.5),
    next(dt) {
      left -= dt;
      if (left <= 0) {
        if (walk)
          n = n === most ? n - 1 : n === Math.max(1, most - 2) ? n + 1 : n + (random.unit() < 0.5 ? 1 : -1);
        else n = n === most ? most - 1 : most;
        left = -2 * dwell_s * (n === most ? share : 1 - share) * Math.log(1 - random.unit());
      }
      return { steady_A: single_A * Math.sqrt(n) * (1 + own(dt)) };
    },
  };
}

/** Each jet once born stays: from one to two to three. The part with one jet is short, so that nearly all of it is several. */
export function staircase({ random, between, single_A, length_s }: Scene): Play {
  const own = wander(between(0.002, 0.008), 2, random);
  const first = 0.12 * length_s;
  const second = random.between(0.4, 0.6) * length_s;
  let t = 0;
  return {
    feature: BY_LEVEL,
    level_A: single_A * Math.SQRT2,
    skip_s: first,
    next(dt) {
      t += dt;
      const n = t < first ? 1 : t < second ? 2 : 3;
      return { steady_A: single_A * Math.sqrt(n) * (1 + own(dt)) };
    },
  };
}

/** Two to four jets until some are lost inside the trace, one by one; what is left over as one jet is short and not counted. */
export function losing({ random, between, single_A, length_s }: Scene): Play {
  const own = wander(between(0.002, 0.008), 2, random);
  const most = 2 + random.index(3);
  const last = random.between(0.7, 0.88) * length_s;
  let t = 0;
  return {
    feature: BY_LEVEL,
    level_A: single_A * Math.sqrt(most),
    until_s: last,
    next(dt) {
      t += dt;
      const n = t > last ? 1 : Math.max(2, most - Math.floor((t / last) * (most - 1)));
      return { steady_A: single_A * Math.sqrt(n) * (1 + own(dt)) };
    },
  };
}

/** Two or three jets; one is lost for a moment, once to three times in the trace. */
export function stumbling({ random, between, single_A, length_s }: Scene): Play {
  const own = wander(between(0.002, 0.008), 2, random);
  const most = 2 + random.index(2);
  const times = 1 + random.index(3);
  const falls = Array.from({ length: times }, (_, k) => {
    const from = length_s * ((k + random.between(0.25, 0.55)) / times);
    return [from, from + Math.max(0.03, length_s * random.between(0.03, 0.1))] as const;
  });
  let t = 0;
  return {
    feature: BY_LEVEL,
    level_A: single_A * Math.sqrt(most),
    next(dt) {
      t += dt;
      const fewer = falls.some(([from, to]) => t >= from && t < to);
      return { steady_A: single_A * Math.sqrt(fewer ? most - 1 : most) * (1 + own(dt)) };
    },
  };
}
