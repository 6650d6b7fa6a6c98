/**
 * A plain Gaussian process beside the search: log level, each reading's own noise, a constant mean, raw coordinates, lengths chosen by
 * evidence among three scales, expected gain with the same candidates and costs; eight spread readings first. No physics, no time.
 */

import { randomStream } from '../../src/core/random.ts';
import type { Belief } from '../../src/core/settling/belief.ts';
import type { Family } from '../../src/core/settling/family.ts';
import { type Datum, fitFamily } from '../../src/core/settling/fit.ts';
import type { SettlePoint, SettleSession } from '../../src/core/settling/index.ts';
import { limitsOf } from '../../src/core/settling/limits.ts';
import { worthsOf } from '../../src/core/settling/objective.ts';
import type { OnsetLaw } from '../../src/core/settling/onset-law.ts';
import { COUNT, placeOf } from '../../src/core/settling/physics-mean.ts';
import { search } from '../../src/core/settling/search.ts';

const FLAT: OnsetLaw = { base: () => Math.log(1000), logGap: () => 5 };
const SCALES = [0.6, 1, 1.6];
const FIRST = 8;

export function plainGp(session: SettleSession): { to: SettlePoint; best: SettlePoint } {
  const limits = limitsOf(session, FLAT);
  const { readings } = session;
  if (readings.length === 0) return { to: session.start, best: session.start };
  const worths = worthsOf('level', readings);
  const top = worths.reduce((best, w, k) => (w.y > worths[best]!.y ? k : best), 0);
  if (readings.length < FIRST) {
    const random = randomStream(session.seed, `spread ${readings.length}`);
    const { start } = session;
    const to = limits.allowed({
      voltage_V: start.voltage_V * (0.6 + 0.8 * ((readings.length * 0.618) % 1)),
      distance_mm: random.between(1.5, 5),
      lateral_x_mm: random.between(-1, 1),
      lateral_y_mm: random.between(-1, 1),
      angle_deg: 0,
    });
    return { to, best: readings[top]!.at };
  }
  const data: Datum[] = worths.map(({ y, sd }, k) => ({
    place: placeOf(FLAT, readings[k]!.at, 0),
    y: Math.max(y, worths[top]!.y - 5),
    variance: sd * sd,
    epoch: 0,
  }));
  const found = SCALES.map((scale) => fitFamily(familyOf(scale), data, session.seed)[0]!);
  const best = Math.max(...found.map((m) => m.logEvidence));
  const total = found.reduce((sum, m) => sum + Math.exp(m.logEvidence - best), 0);
  const belief: Belief = {
    law: FLAT,
    modes: found
      .map((mode) => ({ mode, weight: Math.exp(mode.logEvidence - best) / total }))
      .filter(({ weight }) => weight > 0.02),
    physics: found[0]!,
    epoch: 0,
    now: 0,
  };
  const step = search(session, belief, limits, readings.at(-1)!.at, 0.06, () => 0);
  return { to: readings.length % 6 === 0 ? step.best : step.next, best: step.best };
}

function familyOf(scale: number): Family {
  const sd = new Float64Array(COUNT);
  sd[0] = 3;
  return {
    name: 'readings alone',
    share: 1,
    terms: { ridge: false, ring: false, distance: false, angle: false },
    mean: new Float64Array(COUNT),
    sd,
    kernel: {
      sd: 1.5,
      ratio: 0.13 * scale,
      lateral: 0.7 * scale,
      distance: 0.5 * scale,
      angle: 25,
      time: 1e9,
    },
  };
}
