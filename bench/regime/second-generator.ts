/**
 * Current traces for judging the reading of regimes, written apart from the rehearsal bench and from other descriptions: every
 * regime is a chain of stretches of constant current (accumulate, cone, jet, relax; trains and quiet; hops between levels), and
 * a one-pole meter follows each stretch exactly, so that sampling, folding and bandwidth come out as they must. Nothing of it is
 * a measurement. Frequencies: charged-drop mode of Marginean et al. 2006, Appl. Phys. Lett. 89, 064104 (read (abstract));
 * levels: I = 2.4 (gamma K Q)^1/2 and sqrt(n) of it for n jets (from memory); what the rest looks like: judgement.
 */
import { type RandomStream, randomStream } from '../../src/core/random.ts';

export type TrueRegime =
  | 'no spray'
  | 'leak only'
  | 'dripping'
  | 'pulsating'
  | 'intermittent bursts'
  | 'steady cone-jet'
  | 'unsteady jet'
  | 'several jets'
  | 'corona or arc';

export const TRUE_REGIMES: readonly TrueRegime[] = [
  'no spray',
  'leak only',
  'dripping',
  'pulsating',
  'intermittent bursts',
  'steady cone-jet',
  'unsteady jet',
  'several jets',
  'corona or arc',
];

export interface ProofTrace {
  regime: TrueRegime;
  current_nA: Float64Array;
  rate_Hz: number;
  /** Of the meter; the reader may or may not be told. */
  bandwidth_Hz: number;
  /** A single jet's current of this emitter, liquid and flow. */
  single_nA: number;
  /** Rates of the fastest and the slowest feature that name the regime [Hz]; 0 where level alone does. */
  fastest_Hz: number;
  slowest_Hz: number;
  jets: number;
  pickup: 'none' | 'mains' | 'pump';
  flow_nL_min: number;
}

/** One stretch of constant current. */
type Stretch = readonly [seconds: number, nA: number];
type Chain = Generator<Stretch, never>;

const RATES = [1e3, 5e3, 2e4, 1e5, 2.5e5, 1e6] as const;
/** Regimes whose pulses run at the meniscus's own frequency. */
const FAST: readonly TrueRegime[] = ['pulsating', 'intermittent bursts'];
const WINDOW_SAMPLES = 1 << 15;
/** A drop rate or a hop must be met several times in the trace. */
const LEAST_SECONDS = 0.4;
const MOST_SAMPLES = 1 << 18;

export function proofTrace(seed: number, regime: TrueRegime): ProofTrace {
  const random = randomStream(seed, `proof ${regime}`);
  const between = (low: number, high: number) => low * (high / low) ** random.unit();
  // Fast pulses are shown by fast meters only; half of their traces come from one.
  const from = FAST.includes(regime) && random.unit() < 0.5 ? 3 : 0;
  const rate = RATES[from + Math.floor(random.unit() * (RATES.length - from))]!;
  const slow = regime === 'dripping' || regime === 'several jets' || regime === 'unsteady jet';
  const seconds = Math.max(WINDOW_SAMPLES / rate, slow ? 4 : LEAST_SECONDS);
  const samples = Math.min(Math.ceil(seconds * rate), MOST_SAMPLES);
  const bandwidth = rate * between(0.05, 2);
  const radius = between(4e-6, 18e-6);
  const gamma = between(0.03, 0.068);
  const conductivity = between(0.004, 0.09);
  const flow = between(20, 800);
  const single = 2.4e9 * Math.sqrt(gamma * conductivity * ((flow * 1e-12) / 60));
  const charged = random.between(0.5, 0.9);
  const natural =
    Math.sqrt((8 * gamma * (1 - charged ** 2)) / (random.between(850, 1000) * radius ** 3)) / (2 * Math.PI);
  const made = chainOf(regime, { single, natural, random, between, length: samples / rate });
  const current = throughMeter(made.chain, samples, rate, bandwidth);
  const pickup = addBench(current, rate, single, random, between);
  return {
    regime,
    current_nA: current,
    rate_Hz: rate,
    bandwidth_Hz: bandwidth,
    single_nA: single,
    fastest_Hz: made.fastest_Hz,
    slowest_Hz: made.slowest_Hz,
    jets: made.jets,
    pickup,
    flow_nL_min: flow,
  };
}

interface Scene {
  single: number;
  natural: number;
  random: RandomStream;
  between: (low: number, high: number) => number;
  length: number;
}

interface Made {
  chain: Chain;
  fastest_Hz: number;
  slowest_Hz: number;
  jets: number;
}

function chainOf(regime: TrueRegime, scene: Scene): Made {
  const made = (chain: Chain, fastest_Hz: number, slowest_Hz: number, jets: number): Made => ({
    chain,
    fastest_Hz,
    slowest_Hz,
    jets,
  });
  const { single, natural, random, between, length } = scene;
  switch (regime) {
    case 'no spray':
      return made(flat(0), 0, 0, 0);
    case 'leak only':
      // A dry leak stays below 5 nA (common practice, no source); a stronger one cannot be told from a spray by its level.
      return made(flat(between(1.5, 5)), 0, 0, 0);
    case 'dripping': {
      const drops = between(2, 12);
      return made(drips(drops, single, random), drops, drops, 0);
    }
    case 'pulsating':
      return made(relaxation(natural, single * between(0.3, 0.8), random), natural, natural, 0);
    case 'intermittent bursts': {
      const trains = between(20, 300);
      return made(trainsOf(trains, natural, single, random), natural, trains, 0);
    }
    case 'steady cone-jet':
      return made(drifting(single * between(0.8, 1.2), random), 0, 0, 1);
    case 'unsteady jet': {
      const hops = between(3, 60);
      return made(hopping(single, hops, random), hops, hops, 1);
    }
    case 'several jets': {
      const jets = 2 + Math.floor(random.unit() * 3);
      const changes = Math.max(3 / length, between(1, 4));
      return made(births(single, jets, changes, random), changes, changes, jets);
    }
    case 'corona or arc': {
      const sparks = between(200, 20000);
      return made(trichel(single * between(2, 6), sparks, random), sparks, sparks, 1);
    }
  }
}

function* flat(level: number): Chain {
  for (;;) yield [1, level];
}

/** Cone-jet: constant but for a slow wander of a percent or so. */
function* drifting(level: number, random: RandomStream): Chain {
  let wander = 0;
  for (;;) {
    wander = 0.95 * wander + 0.004 * random.normal();
    yield [0.02, level * (1 + wander)];
  }
}

/** Accumulate (no current), cone (rising), jet (high), relax (falling): one cycle of the meniscus. */
function* relaxation(f: number, mean: number, random: RandomStream): Chain {
  const duty = random.between(0.2, 0.5);
  const regular = random.between(0.005, 0.06);
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
function* trainsOf(f: number, natural: number, single: number, random: RandomStream): Chain {
  const busy = random.between(0.15, 0.5);
  for (;;) {
    const period = (1 + 0.15 * random.normal()) / f;
    const pulses = relaxation(natural, single * 0.7, random);
    let left = Math.max(period * busy, 1.5 / natural);
    while (left > 0) {
      const [seconds, nA] = pulses.next().value;
      yield [Math.max(Math.min(seconds, left), 0), nA];
      left -= seconds;
    }
    yield [Math.max(period * (1 - busy), 1 / natural), 0.01 * single];
  }
}

function* drips(rate: number, single: number, random: RandomStream): Chain {
  for (;;) {
    const period = Math.max(1 + 0.1 * random.normal(), 0.3) / rate;
    const spike = random.between(0.5e-3, 3e-3);
    yield [period - spike, 0.002 * single];
    yield [spike, single * random.between(1, 3)];
  }
}

/** Switching at random between the jet and a pulsating, lower state. */
function* hopping(single: number, rate: number, random: RandomStream): Chain {
  const low = random.between(0.4, 0.75);
  for (;;) {
    yield [waited(2 * rate, random), single * (1 + 0.01 * random.normal())];
    yield [waited(2 * rate, random), single * low * (1 + 0.08 * random.normal())];
  }
}

/** Jets are born and die: sqrt(n) of the single current, always two or more of them but for short falls to one less. */
function* births(single: number, jets: number, rate: number, random: RandomStream): Chain {
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
function* trichel(level: number, rate: number, random: RandomStream): Chain {
  for (;;) {
    yield [waited(rate, random), level * (1 + 0.05 * random.normal())];
    yield [random.between(2e-7, 2e-6), level * random.between(20, 200)];
  }
}

/** One pole, followed exactly through each stretch; sampled, not averaged. */
function throughMeter(chain: Chain, samples: number, rate: number, bandwidth: number): Float64Array {
  const out = new Float64Array(samples);
  const tau = 1 / (2 * Math.PI * bandwidth);
  let [left, level] = chain.next().value;
  let y = level;
  for (let i = 0; i < samples; i++) {
    let step = 1 / rate;
    while (left < step) {
      y = level + (y - level) * Math.exp(-left / tau);
      step -= left;
      [left, level] = chain.next().value;
    }
    y = level + (y - level) * Math.exp(-step / tau);
    left -= step;
    out[i] = y;
  }
  return out;
}

/** What every bench adds: white noise, slow drift, perhaps mains or pump, the converter's steps. */
function addBench(
  current: Float64Array,
  rate: number,
  single: number,
  random: RandomStream,
  between: (low: number, high: number) => number,
): ProofTrace['pickup'] {
  const noise = single * between(0.002, 0.03);
  const draw = random.unit();
  const pickup = draw < 0.6 ? 'none' : draw < 0.85 ? 'mains' : 'pump';
  const size = pickup === 'none' ? 0 : single * between(0.01, 0.06);
  const f = pickup === 'mains' ? (random.unit() < 0.5 ? 50 : 60) : between(0.5, 4);
  const phase = 2 * Math.PI * random.unit();
  const drift = single * 0.01 * random.normal();
  const lsb = (single * 8) / 2 ** (random.unit() < 0.3 ? 12 : 16);
  for (let i = 0; i < current.length; i++) {
    const t = i / rate;
    const hum =
      size * (Math.sin(2 * Math.PI * f * t + phase) + 0.3 * Math.sin(6 * Math.PI * f * t + 2 * phase));
    const value = current[i]! + noise * random.normal() + hum + (drift * i) / current.length;
    current[i] = lsb * Math.round(value / lsb);
  }
  return pickup;
}
