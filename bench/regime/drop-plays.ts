/** Tuning traces of drops and of discharges: single charges, from nothing or on a raised level. Sizes beyond the rehearsal's are judgement. */
import type { SingleCharge } from '../../src/rehearsal/bench/current-maker.ts';
import { CORONA, coronaCharges, coronaRate } from '../../src/rehearsal/bench/discharges.ts';
import { dropCharge } from '../../src/rehearsal/bench/drops.ts';
import type { Play, Scene } from './play.ts';

/** Drops by the time the flow takes to fill them, each with half its Rayleigh charge or less, over its own capillary time; some with a satellite. */
export function dripping({ truth, random, between, flow, rate_Hz }: Scene): Play {
  const { liquid } = truth;
  const rate = between(0.8, 20);
  const radius = Math.cbrt((3 * flow) / (4 * Math.PI * rate));
  const share = between(0.1, 0.6);
  const satellite = random.unit() < 0.3;
  const scatter = random.between(0.02, 0.2);
  const base = random.unit() < 0.3 ? between(0.2e-9, 1e-9) : 0;
  const one = dropCharge(share, radius, liquid);
  // The maker lets a charge go over a sample at least.
  const lasts_s = Math.max(one.length_s, 1 / rate_Hz);
  let left = random.unit() / rate;
  return {
    feature: {
      fastest_Hz: rate,
      slowest_Hz: rate,
      height_nA: (1e9 * one.charge_C) / lasts_s,
      lasts_s,
    },
    level_A: base + one.charge_C * rate,
    next(dt) {
      const charges: SingleCharge[] = [];
      left -= dt;
      if (left <= 0) {
        left += Math.max(0.2, 1 + scatter * random.normal()) / rate;
        charges.push(dropCharge(share, radius * (1 + 0.3 * scatter * random.normal()), liquid));
        if (satellite) charges.push(dropCharge(share, radius * 0.35, liquid));
      }
      return { steady_A: base, charges, carrier_C: 0 };
    },
  };
}

/** Corona as the rehearsal has it beside a jet, or a regular train of negative pulses on a raised level, or arcs. */
export function burning(scene: Scene): Play {
  const { random, between, single_A } = scene;
  const level_A = single_A * between(1, 5);
  const kind = random.unit();
  if (kind < 0.6) {
    const over = random.between(1.005, 1.15);
    const rate = coronaRate(over);
    const { pulse_C, length_s } = CORONA;
    return {
      feature: {
        fastest_Hz: rate,
        slowest_Hz: rate,
        height_nA: 1e9 * (pulse_C / length_s),
        lasts_s: length_s,
      },
      level_A: level_A + rate * pulse_C,
      next: (dt) => ({ steady_A: level_A, charges: coronaCharges(over, dt, random) }),
    };
  }
  const rate = between(30, 3000);
  const charge_C = between(0.05e-9, 1e-9);
  const length_s = between(5e-7, 5e-6);
  return {
    feature: {
      fastest_Hz: rate,
      slowest_Hz: rate,
      height_nA: (1e9 * charge_C) / length_s,
      lasts_s: length_s,
    },
    level_A: level_A + rate * charge_C,
    next(dt) {
      const charges: SingleCharge[] = [];
      let at = -Math.log(1 - random.unit()) / rate;
      while (at < dt) {
        charges.push({ charge_C: charge_C * random.factor(0.6), length_s });
        at -= Math.log(1 - random.unit()) / rate;
      }
      return { steady_A: level_A * (1 + 0.02 * random.normal()), charges };
    },
  };
}
