/**
 * Current traces for judging the reading of regimes, written apart from the rehearsal bench and from other descriptions: every
 * regime is a chain of stretches of constant current (accumulate, cone, jet, relax; trains and quiet; hops between levels), and
 * a one-pole meter follows each stretch exactly, so that sampling, folding and bandwidth come out as they must. Nothing of it is
 * a measurement. Frequencies: charged-drop mode of Marginean et al. 2006, Appl. Phys. Lett. 89, 064104 (read (abstract));
 * levels: I = 2.4 (gamma K Q)^1/2 and sqrt(n) of it for n jets (from memory); what the rest looks like: judgement.
 */
import { type RandomStream, randomStream } from '../../src/core/random.ts';

import {
  births,
  type Chain,
  drifting,
  drips,
  flat,
  hopping,
  joined,
  relaxation,
  type Scene,
  stroking,
  trainsOf,
  trichel,
} from './chains.ts';
import { BY_LEVEL, type Feature, type ProofPart, type ProofTrace, type TrueRegime } from './proof-trace.ts';

const RATES = [1e3, 5e3, 2e4, 1e5, 2.5e5, 1e6] as const;
/** Regimes whose pulses run at the meniscus's own frequency. */
const FAST: readonly TrueRegime[] = ['pulsating', 'intermittent bursts'];
/** Regimes whose features come some times in a second: these traces last longer. */
const SLOW: readonly TrueRegime[] = ['dripping', 'several jets', 'unsteady jet', 'mains or pump'];
const WINDOW_SAMPLES = 1 << 15;
const LEAST_SECONDS = 0.4;
const SLOW_SECONDS = 5;
const PUMP_SECONDS = 20;
const MOST_SAMPLES = 1 << 18;
/** One trace in six turns into another regime on its way. */
const TURNS = 1 / 6;

export function proofTrace(seed: number, regime: TrueRegime): ProofTrace {
  const random = randomStream(seed, `proof ${regime}`);
  const between = (low: number, high: number) => low * (high / low) ** random.unit();
  // Fast pulses are shown by fast meters only; half of their traces come from one.
  const from = FAST.includes(regime) && random.unit() < 0.5 ? 3 : 0;
  const rate = RATES[from + Math.floor(random.unit() * (RATES.length - from))]!;
  const pump = regime === 'mains or pump' && random.unit() < 0.5;
  const seconds = Math.max(
    WINDOW_SAMPLES / rate,
    pump ? PUMP_SECONDS : SLOW.includes(regime) ? SLOW_SECONDS : LEAST_SECONDS,
  );
  // Slow records of fast pulses are long enough with fewer samples.
  const most = FAST.includes(regime) && rate < 1e5 ? 1 << 13 : MOST_SAMPLES;
  const samples = Math.min(Math.ceil(seconds * rate), most);
  const bandwidth = rate * between(0.05, 2);
  const radius = between(4e-6, 18e-6);
  const gamma = between(0.03, 0.068);
  const conductivity = between(0.004, 0.09);
  const flow = between(20, 800);
  const single = 2.4e9 * Math.sqrt(gamma * conductivity * ((flow * 1e-12) / 60));
  const charged = random.between(0.5, 0.9);
  const natural =
    Math.sqrt((8 * gamma * (1 - charged ** 2)) / (random.between(850, 1000) * radius ** 3)) / (2 * Math.PI);
  const length = samples / rate;
  const scene: Scene = { single, natural, random, between, length, meter_Hz: bandwidth };
  const next = !pump && random.unit() < TURNS ? FOLLOWS[regime] : undefined;
  const turn = next ? length * random.between(0.35, 0.65) : length;
  const first = chainOf(regime, scene, pump);
  const second = next ? chainOf(next, scene, false) : undefined;
  const chain = second ? joined(first.chain, turn, second.chain) : first.chain;
  const current = throughMeter(chain, samples, rate, bandwidth);
  const bench = addBench(current, rate, single, first, regime, pump, random, between);
  const part = (made: Made, name: TrueRegime, from_s: number, to_s: number): ProofPart => ({
    regime: name,
    from_s,
    to_s,
    feature: made.feature,
    level_nA: made.level,
  });
  return {
    current_nA: current,
    rate_Hz: rate,
    bandwidth_Hz: bandwidth,
    single_nA: single,
    ...bench,
    parts: [part(first, regime, 0, turn), ...(second && next ? [part(second, next, turn, length)] : [])],
  };
}

/** What comes of it when the voltage is raised, or the flow fails. */
const FOLLOWS: Partial<Record<TrueRegime, TrueRegime>> = {
  'no spray': 'leak only',
  'leak only': 'dripping',
  dripping: 'pulsating',
  pulsating: 'steady cone-jet',
  'intermittent bursts': 'unsteady jet',
  'steady cone-jet': 'no spray',
  'unsteady jet': 'steady cone-jet',
  'several jets': 'corona or arc',
  'corona or arc': 'steady cone-jet',
};

interface Made {
  chain: Chain;
  feature: Feature;
  /** Mean [nA]. */
  level: number;
}

function chainOf(regime: TrueRegime, scene: Scene, pump: boolean): Made {
  const { single, natural, random, between, length } = scene;
  switch (regime) {
    case 'no spray':
      return { chain: flat(0), feature: BY_LEVEL, level: 0 };
    case 'leak only': {
      // A dry leak stays below 5 nA (common practice, no source); a stronger one cannot be told from a spray by its level.
      const level = between(1.5, 5);
      return { chain: flat(level), feature: BY_LEVEL, level };
    }
    case 'dripping': {
      const drops = between(2, 12);
      return {
        chain: drips(drops, single, random),
        feature: { fastest_Hz: drops, slowest_Hz: drops, height_nA: single, lasts_s: 1e-3 },
        level: 0.0035 * drops * single,
      };
    }
    case 'pulsating': {
      const mean = single * between(0.3, 0.8);
      return {
        chain: relaxation(natural, mean, scene),
        feature: { fastest_Hz: natural, slowest_Hz: natural, height_nA: 2 * mean, lasts_s: 0.3 / natural },
        level: mean,
      };
    }
    case 'intermittent bursts': {
      const trains = between(20, 300);
      return {
        chain: trainsOf(trains, scene),
        feature: { fastest_Hz: natural, slowest_Hz: trains, height_nA: 1.4 * single, lasts_s: 0.3 / natural },
        level: 0.2 * single,
      };
    }
    case 'steady cone-jet': {
      const level = single * between(0.8, 1.2);
      return { chain: drifting(level, random), feature: BY_LEVEL, level };
    }
    case 'unsteady jet': {
      const hops = between(3, 60);
      const low = random.between(0.4, 0.75);
      return {
        chain: hopping(low, hops, scene),
        feature: {
          fastest_Hz: 2 * hops,
          slowest_Hz: hops,
          height_nA: single * (1 - low),
          lasts_s: 0.5 / hops,
        },
        level: (single * (1 + low)) / 2,
      };
    }
    case 'several jets': {
      const jets = 2 + Math.floor(random.unit() * 3);
      const changes = Math.max(3 / length, between(1, 4));
      const fewer = Math.sqrt(Math.max(jets - 1, 1));
      return {
        chain: births(single, jets, changes, random),
        feature: {
          fastest_Hz: 4 * changes,
          slowest_Hz: changes,
          height_nA: single * (Math.sqrt(jets) - fewer),
          lasts_s: 0.25 / changes,
        },
        level: single * Math.sqrt(jets),
      };
    }
    case 'corona or arc': {
      const sparks = between(200, 20000);
      const level = single * between(2, 6);
      return {
        chain: trichel(level, sparks, random),
        feature: { fastest_Hz: sparks, slowest_Hz: sparks, height_nA: 60 * level, lasts_s: 1e-6 },
        level,
      };
    }
    case 'mains or pump': {
      const level = single * between(0.8, 1.2);
      if (pump) {
        const strokes = between(0.5, 4);
        const depth = random.between(0.2, 0.6);
        return {
          chain: stroking(level, strokes, depth, random),
          feature: {
            fastest_Hz: strokes,
            slowest_Hz: strokes / 1.5,
            height_nA: depth * level,
            lasts_s: 0.3 / strokes,
          },
          level,
        };
      }
      const quiet = random.unit() < 0.4;
      return {
        chain: quiet ? flat(0) : drifting(level, random),
        feature: BY_LEVEL,
        level: quiet ? 0 : level,
      };
    }
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
  { level }: Made,
  regime: TrueRegime,
  pump: boolean,
  random: RandomStream,
  between: (low: number, high: number) => number,
): Pick<ProofTrace, 'noise_nA' | 'noise_new_Hz' | 'hum_nA' | 'hum_Hz' | 'drift_nA'> {
  const noise = single * between(0.002, 0.03);
  const own = regime === 'mains or pump' && !pump;
  const draw = random.unit();
  // A pump speaks through a spray only.
  const heard =
    own || (draw > 0.85 && level < 10)
      ? 'mains'
      : pump || draw < 0.6
        ? 'none'
        : draw < 0.85
          ? 'mains'
          : 'pump';
  const size = own
    ? Math.max(level, 20) * between(0.1, 0.5)
    : heard === 'none'
      ? 0
      : single * between(0.01, 0.06);
  const f = heard === 'mains' ? (random.unit() < 0.5 ? 50 : 60) : between(0.5, 4);
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
  return {
    noise_nA: Math.hypot(noise, lsb / Math.sqrt(12)),
    noise_new_Hz: rate,
    hum_nA: size,
    hum_Hz: f,
    drift_nA: drift,
  };
}
