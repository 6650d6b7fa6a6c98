/**
 * Regimes as chains of stretches of constant current, for the reporting set: accumulate, cone, jet, relax; trains and quiet; hops between
 * levels; strokes of a pump; sparks. Shapes and shares are judgement; nothing of it is a measurement.
 */
import type { RandomStream } from '../../src/core/random.ts';

/** One stretch of constant current. */
export type Stretch = readonly [seconds: number, nA: number];
export type Chain = Generator<Stretch, never>;

export interface Scene {
  single: number;
  natural: number;
  random: RandomStream;
  between: (low: number, high: number) => number;
  length: number;
  meter_Hz: number;
}

/** Pulses so much faster than the meter are their own mean to a thousandth. */
const AVERAGED = 300;

/** One chain until `turn` [s], then the other. */
export function* joined(first: Chain, turn: number, second: Chain): Chain {
  let left = turn;
  while (left > 0) {
    const [seconds, nA] = first.next().value;
    yield [Math.max(0, Math.min(seconds, left)), nA];
    left -= seconds;
  }
  for (;;) yield second.next().value;
}

export function* flat(level: number): Chain {
  for (;;) yield [1, level];
}

/** Cone-jet: constant but for a slow wander of a percent or so. */
export function* drifting(level: number, random: RandomStream): Chain {
  let wander = 0;
  for (;;) {
    wander = 0.95 * wander + 0.004 * random.normal();
    yield [0.02, level * (1 + wander)];
  }
}

/** Accumulate (no current), cone (rising), jet (high), relax (falling): one cycle of the meniscus. */
export function* relaxation(f: number, mean: number, { random, meter_Hz }: Scene): Chain {
  const duty = random.between(0.2, 0.5);
  const regular = random.between(0.005, 0.06);
  if (f > AVERAGED * meter_Hz) for (;;) yield [1, mean];
  for (;;) {
    const period = (1 + regular * random.normal()) / f;
    const high = (mean / duty) * (1 + regular * random.normal());
    yield [period * (1 - duty) * 0.8, 0.03 * mean];
    yield [period * duty * 0.15, 0.5 * high];
    yield [period * duty * 0.75, high * 1.1];
    yield [period * duty * 0.1, 0.5 * high];
    yield [period * (1 - duty) * 0.2, 0.05 * mean];
  }
}

/** Trains of pulses, then quiet while the meniscus fills again. */
export function* trainsOf(f: number, scene: Scene): Chain {
  const { random, natural, single } = scene;
  const busy = random.between(0.15, 0.5);
  for (;;) {
    const period = (1 + 0.15 * random.normal()) / f;
    yield* lasting(relaxation(natural, single * 0.7, scene), Math.max(period * busy, 1.5 / natural));
    yield [Math.max(period * (1 - busy), 1 / natural), 0.01 * single];
  }
}

/** A chain for so long. */
export function* lasting(chain: Chain, seconds: number): Generator<Stretch, void> {
  let left = seconds;
  while (left > 0) {
    const [part, nA] = chain.next().value;
    yield [Math.max(Math.min(part, left), 0), nA];
    left -= part;
  }
}

export function* drips(rate: number, single: number, random: RandomStream): Chain {
  for (;;) {
    const period = Math.max(1 + 0.1 * random.normal(), 0.3) / rate;
    const spike = random.between(0.5e-3, 3e-3);
    yield [period - spike, 0.002 * single];
    yield [spike, single * random.between(1, 3)];
  }
}

/** Switching at random between the jet and a pulsating state whose mean is lower and never quite the same. */
export function* hopping(low: number, rate: number, scene: Scene): Chain {
  const { single, natural, random } = scene;
  for (;;) {
    yield [waited(2 * rate, random), single * (1 + 0.01 * random.normal())];
    const mean = single * low * (1 + 0.08 * random.normal());
    yield* lasting(relaxation(natural, mean, scene), waited(2 * rate, random));
  }
}

/** A piston pump: the flow falls while it refills, and the current as its square root. */
export function* stroking(level: number, strokes: number, depth: number, random: RandomStream): Chain {
  const steps = 40;
  const refill = random.between(0.25, 0.5);
  for (;;) {
    const period = (1 + 0.004 * random.normal()) / strokes;
    for (let k = 0; k < steps; k++) {
      const at = k / steps;
      const flow = at < refill ? 1 - depth * Math.sin((Math.PI * at) / refill) : 1 + 0.15 * depth;
      yield [period / steps, level * Math.sqrt(flow)];
    }
  }
}

/** Jets are born and die: sqrt(n) of the single current, always two or more of them but for short falls to one less. */
export function* births(single: number, jets: number, rate: number, random: RandomStream): Chain {
  for (;;) {
    yield [waited(1.3 * rate, random), single * Math.sqrt(jets)];
    yield [waited(4 * rate, random), single * Math.sqrt(Math.max(jets - 1, 1))];
  }
}

/** Time to a chance event of this rate [s]. */
function waited(rate: number, random: RandomStream): number {
  return -Math.log(1 - random.unit()) / rate;
}

/** Sharp pulses at random times on a raised level. */
export function* trichel(level: number, rate: number, random: RandomStream): Chain {
  for (;;) {
    yield [waited(rate, random), level * (1 + 0.05 * random.normal())];
    yield [random.between(2e-7, 2e-6), level * random.between(20, 200)];
  }
}
