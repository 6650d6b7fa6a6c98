/**
 * What the meniscus sends through the meter in each regime: jets by the current law, pulses by the relaxation oscillator, the
 * switching between both in the unsteady stretch. n jets carry √n of one (all share the flow).
 */
import { type JetLiquid, jetDiameter } from '../../core/jet/index.ts';
import type { RandomStream } from '../../core/random.ts';
import type { PulseTrain } from './current-maker.ts';
import { type Pulsation, pulsation } from './pulsation.ts';
import { BURSTS_TO, type RegimeAnswer } from './regime.ts';
import type { BenchTruth } from './truth.ts';
import { wander } from './wander.ts';

export interface EmissionAt extends RegimeAnswer {
  ratio: number;
  /** [m3/s] */
  flow: number;
  minimumFlow: number;
  contact: number;
  liquid: JetLiquid;
}

export interface Emission {
  steady_A: number;
  carrier_C: number;
  pulses: PulseTrain | undefined;
  pulsation: Pulsation | undefined;
  jetStands: boolean;
}

/** The current of a jet rises by this share while the voltage rises by its own: 5 to 20 % over the window (from memory). */
const VOLTAGE_SHARE = 0.4;
const DRIFT = { sd: 0.006, memory_s: 3 };
/** Mean dwell in either state of the unsteady stretch [s]. Judgement. */
const DWELL_S = 0.025;
/** Relative standard deviation of interval and charge. Judgement. */
const JITTER = { bursts: 0.12, pulsating: 0.05, unsteady: 0.2 };
/** Share of a cycle that a train lasts, at the onset and where the pauses close. */
const DUTY = { from: 0.25, to: 0.85 };
/** Primary droplet over jet diameter. */
const BREAKUP = 1.89;

export function emitting(truth: BenchTruth, random: RandomStream) {
  const drift = wander(DRIFT.sd, DRIFT.memory_s, random);
  let stands = false;
  return (at: EmissionAt, dt: number): Emission => {
    const { regime, jets, depth, ratio, flow, contact, liquid } = at;
    const law = truth.currentFactor * Math.sqrt(liquid.surfaceTension * liquid.conductivity * flow);
    const jet = law * (1 + VOLTAGE_SHARE * (ratio / truth.steadyFrom - 1)) * (1 + drift(dt));
    if (regime !== 'unsteady') stands = jets > 0;
    else if (random.unit() < dt / DWELL_S) stands = !stands;
    const pulses = regime === 'bursts' || regime === 'pulsating' || regime === 'unsteady';
    const beat = pulses ? pulsation(liquid, contact, flow, at.minimumFlow, depth) : undefined;
    const train = beat && !stands && pulses;
    return {
      steady_A: stands ? Math.sqrt(Math.max(1, jets)) * jet : 0,
      carrier_C: stands ? carrierCharge(jet, flow, liquid) : 0,
      pulses: train
        ? { ...beat, jitter: JITTER[regime], burst: regime === 'bursts' ? burstOf(at) : undefined }
        : undefined,
      pulsation: beat,
      jetStands: stands,
    };
  };

  /** A train for each refill of the liquid that a burst spends. */
  function burstOf({ contact, flow, depth }: EmissionAt): PulseTrain['burst'] {
    const volume = (2 / 3) * Math.PI * contact ** 3 * truth.burstVolumes;
    return { period_s: volume / flow, duty: DUTY.from + (DUTY.to - DUTY.from) * (depth / BURSTS_TO) };
  }
}

/** Charge of a primary droplet at I/Q: it carries the shot noise of a steady jet. */
function carrierCharge(current: number, flow: number, liquid: JetLiquid): number {
  if (!(flow > 0)) return 0;
  return (current / flow) * (Math.PI / 6) * (BREAKUP * jetDiameter(liquid, flow)) ** 3;
}
