/**
 * Samples of the spray current through the modelled meter: a steady part, a train of charge pulses (each an exponential a
 * tenth of the period long), single charges over a time of their own, an ohmic and a mains part, and noise. Pulses enter at their own instants, so a
 * slow meter averages them and a slow converter never folds what the pole had not let through. Exact for the linear pole
 * between instants: with x the pulse's own current, y the meter's, y' = w (x + steady − y), x' = −a x.
 */
import { type RandomStream, xoshiro128 } from '../../core/random.ts';
import { type Meter, meterStep } from './meter.ts';

export interface Drive {
  /** [A] */
  steady_A: number;
  pulses: PulseTrain | undefined;
  /** Charges let go in this stretch at random instants, each over its own time: drops, corona, arcs. */
  charges: readonly SingleCharge[];
  mains_A: number;
  /** Charge of what carries the current [C], for its shot noise. */
  carrier_C: number;
}

export interface SingleCharge {
  charge_C: number;
  length_s: number;
}

export interface PulseTrain {
  frequency_Hz: number;
  charge_C: number;
  /** Relative standard deviations of interval and charge. */
  jitter: number;
  /** Pulses only in this share of each cycle. */
  burst: { period_s: number; duty: number } | undefined;
}

export interface CurrentMaker {
  /** Fills `out` with the next samples [A]; returns the charge that left the tip meanwhile, without noise [C]. */
  fill(out: Float32Array, drive: Drive): number;
}

const MAINS_HZ = 50;
/** Length of a pulse over its period. Judgement. */
const PULSE_SHARE = 0.1;

export function currentMaker(meter: Meter, random: RandomStream): CurrentMaker {
  const dt = 1 / meter.rate_Hz;
  const w = 2 * Math.PI * meter.bandwidth_Hz;
  const step = meterStep(meter);
  const most = meter.fullScale_A - step;
  const forget = Math.exp(-w * dt);
  const keep = Math.sqrt(1 - forget * forget);
  const normal = fastNormal(random);
  const turn = 2 * Math.PI * MAINS_HZ * dt;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  let x = 0;
  let y = 0;
  let noise = 0;
  const flowingNow: { left_C: number; current: number }[] = [];
  let untilPulse = 0;
  let inBurst = 0;
  let mainsRe = 1;
  let mainsIm = 0;

  return {
    fill(out, drive) {
      const { pulses, steady_A, mains_A } = drive;
      const a = pulses === undefined ? w * 2 : Math.max(w * 1e-3, pulses.frequency_Hz / PULSE_SHARE);
      // Equal rates would divide by zero.
      const rate = Math.abs(a - w) < 1e-3 * w ? w * 1.002 : a;
      const fade = Math.exp(-rate * dt);
      const gain = w / (w - rate);
      const starting = drive.charges.map(({ charge_C, length_s }) => ({
        at: random.index(out.length),
        left_C: charge_C,
        current: charge_C / Math.max(length_s, dt),
      }));
      starting.sort((p, q) => p.at - q.at);
      const shot = 2 * drive.carrier_C * Math.abs(steady_A) * (Math.PI / 2) * meter.bandwidth_Hz;
      const sd = Math.sqrt(meter.noise_A ** 2 + shot);
      let charge = steady_A * out.length * dt;
      let started = 0;
      // A frequency that has risen does not wait for the old interval's end.
      if (pulses !== undefined) untilPulse = Math.min(untilPulse, 2 / pulses.frequency_Hz);
      for (let i = 0; i < out.length; i++) {
        let flowing = steady_A;
        while (started < starting.length && starting[started]!.at <= i) flowingNow.push(starting[started++]!);
        for (let k = flowingNow.length - 1; k >= 0; k--) {
          const one = flowingNow[k]!;
          const part = Math.min(one.current * dt, one.left_C);
          one.left_C -= part;
          flowing += part / dt;
          charge += part;
          if (one.left_C <= 0) flowingNow.splice(k, 1);
        }
        y = flowing + (y - flowing) * forget + x * gain * (fade - forget);
        x *= fade;
        if (pulses !== undefined) {
          untilPulse -= dt;
          if (pulses.burst !== undefined) {
            inBurst += dt / pulses.burst.period_s;
            if (inBurst >= 1) inBurst %= 1;
          }
          while (untilPulse <= 0) {
            const ago = Math.min(dt, -untilPulse);
            if (pulses.burst === undefined || inBurst < pulses.burst.duty) {
              const q = pulses.charge_C * Math.max(0.05, 1 + pulses.jitter * normal());
              const left = Math.exp(-rate * ago);
              x += q * rate * left;
              y += q * rate * gain * (left - Math.exp(-w * ago));
              charge += q;
            }
            untilPulse += Math.max(0.05, 1 + pulses.jitter * normal()) / pulses.frequency_Hz;
          }
        }
        const re = mainsRe * cos - mainsIm * sin;
        mainsIm = mainsRe * sin + mainsIm * cos;
        mainsRe = re;
        noise = noise * forget + sd * keep * normal();
        const value = y + noise + mains_A * mainsIm;
        out[i] = Math.min(most, Math.max(-most, Math.round(value / step) * step));
      }
      // The rotation's length creeps by rounding.
      const size = Math.hypot(mainsRe, mainsIm);
      mainsRe /= size;
      mainsIm /= size;
      return charge;
    },
  };
}

/** Standard normals by the polar method: half the cost of the stream's own, which drops one of each pair. */
function fastNormal(random: RandomStream): () => number {
  const word = () => random.index(4294967296);
  const next = xoshiro128(word(), word(), word(), word() | 1);
  let spare = 0;
  let kept = false;
  return () => {
    if (kept) {
      kept = false;
      return spare;
    }
    for (;;) {
      const u = next() / 2147483648 - 1;
      const v = next() / 2147483648 - 1;
      const s = u * u + v * v;
      if (s >= 1 || s === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * factor;
      kept = true;
      return u * factor;
    }
  };
}
