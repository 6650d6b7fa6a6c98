/** Corona and arcs as random charges: Poisson in time, exponential or log-normal in size. Sizes: judgement. */
import type { RandomStream } from '../../core/random.ts';
import type { SingleCharge } from './current-maker.ts';

/** Mean current `scale r (r − 1)` over r = V/V_corona, with a step at its onset; charge and length of a pulse. */
export const CORONA = { scale_A: 3e-6, step: 0.02, pulse_C: 5e-11, length_s: 1e-6, most_A: 3e-6 };
const ARC = { charge_C: 3e-9, length_s: 1e-5 };

/** Pulses in a second; `over` is the voltage over that of corona inception. */
export function coronaRate(over: number): number {
  return Math.min(CORONA.most_A, CORONA.scale_A * (over * (over - 1) + CORONA.step)) / CORONA.pulse_C;
}

export function coronaCharges(over: number, dt: number, random: RandomStream): SingleCharge[] {
  return Array.from({ length: poisson(coronaRate(over) * dt, random) }, () => ({
    charge_C: -CORONA.pulse_C * Math.log(1 - random.unit()),
    length_s: CORONA.length_s,
  }));
}

export function arcCharges(perSecond: number, dt: number, random: RandomStream): SingleCharge[] {
  return Array.from({ length: poisson(perSecond * dt, random) }, () => ({
    charge_C: ARC.charge_C * random.factor(0.5),
    length_s: ARC.length_s,
  }));
}

/** By the sum of its probabilities; above 30 by its normal limit. */
export function poisson(mean: number, random: RandomStream): number {
  if (mean > 30) return Math.max(0, Math.round(mean + Math.sqrt(mean) * random.normal()));
  let left = random.unit();
  let share = Math.exp(-mean);
  let count = 0;
  while (left > share && count < 1000) {
    left -= share;
    count++;
    share *= mean / count;
  }
  return count;
}
