/**
 * Traces on which the reading of regimes is tuned and its probabilities are calibrated: the rehearsal's own emission, pulses, drops
 * and discharges through its modelled meter, on benches whose truth is drawn, each regime by several descriptions (an unsteady
 * jet that switches, that visits a pulsating state of another mean each time, that wanders; jets that come and go or stay).
 * Nothing of it is a measurement; descriptions and sizes beyond the rehearsal's are judgement. The reports use the other generator.
 */
import { type RandomStream, randomStream } from '../../src/core/random.ts';
import { NL_MIN } from '../../src/core/units.ts';
import { currentMaker } from '../../src/rehearsal/bench/current-maker.ts';
import { type Meter, meterStep } from '../../src/rehearsal/bench/meter.ts';
import { benchTruth, rehearsalSetup } from '../../src/rehearsal/bench/truth.ts';
import { humOf } from './hum.ts';
import type { Play, Scene } from './play.ts';
import { playOf } from './plays.ts';
import type { ProofPart, ProofTrace, TrueRegime } from './proof-trace.ts';

const RATES = [1e3, 2e3, 1e4, 5e4, 2e5, 1e6] as const;
const TICK_S = 1e-3;
const LENGTH_S = { least: 0.4, slow: 6, pump: 16 };
const MOST_SAMPLES = 1 << 18;
const DROPLET_C = 3e-16;
/** One trace in five changes its regime halfway, as when the voltage is turned. */
const CHANGES = 0.2;
const FAST: readonly TrueRegime[] = ['pulsating', 'intermittent bursts'];
const SLOW: readonly TrueRegime[] = ['dripping', 'unsteady jet', 'several jets', 'mains or pump'];

export function tuningTrace(seed: number, regime: TrueRegime): ProofTrace {
  const random = randomStream(seed, `tuning ${regime}`);
  const between = (low: number, high: number) => low * (high / low) ** random.unit();
  const rim = random.between(6, 34);
  const truth = benchTruth({
    seed,
    setup: {
      ...rehearsalSetup,
      emitter: { ...rehearsalSetup.emitter, rim_um: rim, bore_um: rim / 2 },
      liquid: { ...rehearsalSetup.liquid, acetonitrile_percent: random.between(2, 60) },
    },
  });
  const { surfaceTension, conductivity } = truth.liquid;
  const flow = between(25, 800) * NL_MIN;
  const single_A = truth.currentFactor * Math.sqrt(surfaceTension * conductivity * flow);
  const from = FAST.includes(regime) && random.unit() < 0.5 ? 4 : 0;
  const rate_Hz = RATES[from + random.index(RATES.length - from)]!;
  const pump = regime === 'mains or pump' && random.unit() < 0.4;
  const wanted = pump ? LENGTH_S.pump : SLOW.includes(regime) ? LENGTH_S.slow : LENGTH_S.least;
  const samples = Math.min(Math.max(wanted * rate_Hz, 1 << 15), MOST_SAMPLES);
  const ticks = Math.floor(samples / rate_Hz / TICK_S);
  const length_s = ticks * TICK_S;
  const meter: Meter = {
    rate_Hz,
    bandwidth_Hz: rate_Hz * between(0.05, 2),
    noise_A: single_A * between(0.002, 0.03),
    fullScale_A: single_A * 16,
    // The converter comes after mains and pump are added.
    bits: 30,
  };
  const step_A = meterStep({ ...meter, bits: [12, 14, 16][random.index(3)]! });
  const scene: Scene = {
    truth,
    single_A,
    flow,
    rate_Hz,
    length_s,
    random,
    between,
  };
  const second = !pump && random.unit() < CHANGES ? other(regime, random) : undefined;
  const half = second ? Math.floor(ticks / 2) : ticks;
  const own = { ...scene, length_s: half * TICK_S };
  const plays = [playOf(regime, own, pump), ...(second ? [playOf(second, own, false)] : [])];
  const hum = humOf(regime, pump, scene, Math.max(plays[0]!.level_A, 1e-9));
  if (pump)
    // A rhythm is told from six periods on.
    plays[0]!.feature = {
      fastest_Hz: hum.frequency_Hz,
      slowest_Hz: hum.frequency_Hz / 1.5,
      height_nA: 2e9 * hum.amplitude_A,
      lasts_s: 0.3 / hum.frequency_Hz,
    };
  // The zero of the whole meter creeps.
  const drift_A = single_A * 0.01 * random.normal();
  const maker = currentMaker(meter, randomStream(seed, `tuning meter ${regime}`));
  const each = Math.round(rate_Hz * TICK_S);
  const out = new Float32Array(each);
  const current_nA = new Float64Array(ticks * each);
  for (let t = 0; t < ticks; t++) {
    const play = plays[t < half ? 0 : 1]!;
    const drive = { steady_A: 0, pulses: undefined, charges: [], carrier_C: DROPLET_C, mains_A: 0 };
    maker.fill(out, { ...drive, ...play.next(TICK_S) });
    for (let k = 0; k < each; k++) {
      const time = (t * each + k) / rate_Hz;
      const value = out[k]! + hum.at(time) + (drift_A * time) / length_s;
      current_nA[t * each + k] =
        1e9 * step_A * Math.round(Math.min(value, 0.999 * meter.fullScale_A) / step_A);
    }
  }
  const part = (play: Play, name: TrueRegime, a: number, b: number): ProofPart => ({
    regime: name,
    from_s: a * TICK_S + (play.skip_s ?? 0),
    to_s: Math.min(b * TICK_S, a * TICK_S + (play.until_s ?? Number.POSITIVE_INFINITY)),
    feature: play.feature,
    level_nA: play.level_A * 1e9,
  });
  return {
    current_nA,
    rate_Hz,
    bandwidth_Hz: meter.bandwidth_Hz,
    single_nA: single_A * 1e9,
    noise_nA: 1e9 * Math.hypot(meter.noise_A, step_A / Math.sqrt(12)),
    noise_new_Hz: newNoise(meter),
    hum_nA: hum.amplitude_A * 1e9,
    hum_Hz: hum.frequency_Hz,
    drift_nA: drift_A * 1e9,
    parts: [part(plays[0]!, regime, 0, half), ...(second ? [part(plays[1]!, second, half, ticks)] : [])],
  };
}

/** What may follow when the voltage is turned. */
function other(regime: TrueRegime, random: RandomStream): TrueRegime | undefined {
  const next: Partial<Record<TrueRegime, TrueRegime[]>> = {
    'no spray': ['steady cone-jet', 'pulsating', 'dripping'],
    'leak only': ['pulsating', 'steady cone-jet'],
    dripping: ['intermittent bursts', 'steady cone-jet'],
    pulsating: ['steady cone-jet', 'unsteady jet'],
    'intermittent bursts': ['pulsating', 'unsteady jet'],
    'steady cone-jet': ['no spray', 'unsteady jet', 'several jets', 'corona or arc'],
    'unsteady jet': ['steady cone-jet'],
    'several jets': ['corona or arc', 'steady cone-jet'],
  };
  const all = next[regime];
  return all?.[random.index(all.length)];
}

/** The noise comes before the meter's pole: so many independent values of it in a second. */
function newNoise({ rate_Hz, bandwidth_Hz }: Meter): number {
  const forget = Math.exp((-2 * Math.PI * bandwidth_Hz) / rate_Hz);
  return (rate_Hz * (1 - forget)) / (1 + forget);
}
