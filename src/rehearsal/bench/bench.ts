/**
 * The rehearsed bench: hidden truth, controls that a person turns, and what comes of it tick by tick (5 ms): regime, tip voltage,
 * flow, samples of the current through the modelled meter, and the signal of each scan. Pure and seeded: the same seed,
 * options, controls and choice of sampled ticks give the same bench whatever the size of the pieces it is advanced in.
 * Times that a real bench stretches over minutes (compliance of the feed, wetting, drying) are shortened to seconds.
 */
import { jetDiameter } from '../../core/jet/index.ts';
import { randomStream } from '../../core/random.ts';
import { NL_MIN } from '../../core/units.ts';
import { inceptionTension, sparkVoltage } from '../../core/window/index.ts';
import { type BenchState, restingState } from './bench-state.ts';
import { type BenchControls, heldInRange } from './controls.ts';
import { currentMaker, type Drive, type SingleCharge } from './current-maker.ts';
import { arcCharges, coronaCharges } from './discharges.ts';
import { dripper, dropCharge } from './drops.ts';
import { type EffectsNow, effectsTimer } from './effects-in-time.ts';
import { emitting } from './emission.ts';
import { METERS, type Meter } from './meter.ts';
import { oddScans } from './odd-scans.ts';
import { regimeAt } from './regime.ts';
import { type Scan, scanTally } from './scan-tally.ts';
import { sourceLevel } from './source.ts';
import { type TipOver, tipOver } from './tip-onset-over.ts';
import { type BenchTruth, benchTruth, type TruthOptions } from './truth.ts';
import { wander } from './wander.ts';

export interface BenchOptions extends TruthOptions {
  /** Default: `METERS.usual`. Its rate is a multiple of 200 Hz. */
  meter?: Meter;
  /** From one scan to the next [s], default 1. */
  scan_s?: number;
}

export interface Bench {
  truth: BenchTruth;
  meter: Meter;
  samplesPerTick: number;
  /** From one scan to the next, in whole ticks [s]. */
  scan_s: number;
  tip: TipOver;
  state: BenchState;
  /** What the fault does at this moment. */
  now: EffectsNow;
  /** Advances one tick. `samples` (samplesPerTick long) is filled; without it no current is sampled. Returns a scan that ended and was kept. */
  tick(controls: BenchControls, samples?: Float32Array): Scan | undefined;
}

export const TICK_S = 0.005;
/** Time constants [s]: supply, flow, current in the ohmic drop, wetting, drying. Judgement, shortened for the rehearsal. */
const LAG = { supply: 0.03, flow: 1.5, current: 0.05, wets: 25, dries: 40, pressure: 1.5 };
/** A wet face carries the contact line so much further out. */
const WET_GROWTH = 0.3;
/** Of V/V_on. */
const WOBBLE = { sd: 0.003, memory_s: 0.6 };
/** A sharp tip or a droplet bridge sparks at this share of a uniform gap's voltage (core/window priors, middle). */
const SPARK_SHARE = 0.5;
/** Column in front of the emitter at 300 nL/min [bar]: an invented column. */
const COLUMN_BAR = 90;
/** Signal and its least scatter under corona. Judgement. */
const CORONA_SIGNAL = { share: 0.6, scatter: 0.3 };
/** A leaning jet. Judgement: 5 to 15°. */
const LEAN_DEG = 8;

export function createBench(options: BenchOptions): Bench {
  const truth = benchTruth(options);
  const meter = options.meter ?? METERS.usual;
  const stream = (name: string) => randomStream(truth.seed, `bench ${name}`);
  const tip = tipOver(truth);
  const random = stream('state');
  const maker = currentMaker(meter, stream('current'));
  const timer = effectsTimer(truth, stream('effects'));
  const emit = emitting(truth, stream('emission'));
  const drops = dripper();
  const scan_s = Math.max(1, Math.ceil((options.scan_s ?? 1) / TICK_S - 0.5)) * TICK_S;
  const scans = scanTally(scan_s, stream('scans'));
  const odd = oddScans(stream('odd scans'));
  const wobble = wander(WOBBLE.sd, WOBBLE.memory_s, stream('wobble'));
  const inception = inceptionTension(truth.contactRadius);
  const state = restingState(truth.contactRadius);

  let ticks = 0;
  let supply = 0;
  let flow = 0;
  let pressure = 0;
  let lagged = 0;
  let wet = 0;
  let charge_nC = 0;
  let hadGas = false;

  function tick(wanted: BenchControls, samples?: Float32Array): Scan | undefined {
    const dt = TICK_S;
    const controls = heldInRange(wanted);
    const time_s = ticks * dt;
    const now = timer.tick(time_s, dt, controls.flow_nL_min, charge_nC);
    bench.now = now;
    const { effects } = now;
    const liquid = {
      ...truth.liquid,
      surfaceTension: truth.liquid.surfaceTension * now.tensionFactor,
      conductivity: truth.liquid.conductivity * effects.conductivityFactor,
    };

    // What reaches the tip: voltage through supply and liquid column, liquid through the pump's compliance.
    supply = toward(
      supply,
      controls.high_voltage && now.voltageFactor > 0 ? controls.voltage_V : 0,
      LAG.supply,
    );
    const tip_V = Math.max(0, supply * now.voltageFactor - lagged * effects.column_ohm);
    const pumped = controls.flow_nL_min * NL_MIN * now.pumpShare;
    flow = toward(flow, pumped * now.tipShare, LAG.flow + now.flowLag_s);
    pressure = toward(
      pressure,
      ((COLUMN_BAR * pumped) / (300 * NL_MIN)) * now.pressureFactor,
      LAG.pressure + now.flowLag_s,
    );
    const atTip = now.gas ? 0 : flow;

    // Where the contact line sits, and the onset there.
    if (state.regime === 'dripping') wet = toward(wet, 1, LAG.wets);
    else if (state.jets > 0) wet = toward(wet, 0, LAG.dries);
    const aged = 1 + (truth.ageing_per_min * time_s) / 60;
    const contact = truth.contactRadius * now.contactFactor * aged * (1 + WET_GROWTH * wet);
    const distance_mm = controls.distance_mm + effects.distanceError_mm;
    const onset_V = tip.onset(contact, distance_mm * 1e-3, liquid.surfaceTension);
    const ratio = (tip_V / onset_V) * (1 + wobble(dt));
    const minimumFlow = (truth.minimumFlow * now.tensionFactor) / effects.conductivityFactor;
    const sparkRatio = tip_V / (SPARK_SHARE * sparkVoltage(distance_mm * 1e-3));
    const answer = regimeAt(
      { ...truth, minimumFlow },
      { ratio, flow: atTip, sparkRatio, before: state.regime },
    );
    if (answer.jets > 0 && effects.extraJets > 0) {
      answer.jets += effects.extraJets;
      answer.regime = 'several jets';
    }
    const { regime, jets } = answer;

    // The current of each regime.
    const emission = emit({ ...answer, ratio, flow: atTip, minimumFlow, contact, liquid }, dt);
    const charges: SingleCharge[] = drops.tick({ regime, ratio, contact, flow: atTip, liquid }, dt);
    if (hadGas && !now.gas && ratio > 1)
      charges.push(dropCharge(AFTER_GAS.share, AFTER_GAS.size * contact, liquid));
    hadGas = now.gas;
    if (now.falls_nL > 0)
      charges.push(dropCharge(AFTER_GAS.share, Math.cbrt((0.75 * now.falls_nL * 1e-12) / Math.PI), liquid));
    const coronaFrom = Math.min(effects.coronaFrom, Math.sqrt(inception / liquid.surfaceTension));
    const corona = ratio > coronaFrom;
    if (corona) charges.push(...coronaCharges(ratio / coronaFrom, dt, random));
    if (regime === 'arc') charges.push(...arcCharges(ARCS_PER_S, dt, random));
    const arcing = regime === 'arc' || ratio > effects.arcs.from;
    if (ratio > effects.arcs.from) {
      const arcs = arcCharges(effects.arcs.perSecond, dt, random);
      charges.push(...arcs);
      if (arcs.length > 0) supply *= AFTER_ARC;
    }
    const leak = effects.leak_ohm > 0 ? (supply / effects.leak_ohm) * now.leakFactor : 0;
    const drive: Drive = {
      steady_A: leak + emission.steady_A,
      pulses: emission.pulses,
      charges,
      mains_A: truth.mains_A + effects.mains_A,
      carrier_C: emission.carrier_C,
    };
    const charge = samples === undefined ? expectedCharge(drive, dt) : maker.fill(samples, drive);
    const current_A = charge / dt;
    charge_nC = (charge - leak * dt) * 1e9;
    lagged = toward(lagged, Math.max(0, current_A - leak), LAG.current);

    // The signal at this place.
    const flow_nL_min = atTip / NL_MIN;
    const leaning = regime === 'tilted jet' || regime === 'several jets' ? LEAN_DEG : 0;
    const tilt_deg = effects.tilt_deg + leaning;
    const aside_mm = distance_mm * Math.tan((tilt_deg * Math.PI) / 180);
    const offset_mm = controls.offset_mm - truth.centre_mm - now.offsetDrift_mm + aside_mm;
    const source = sourceLevel(truth, { regime, ratio, flow_nL_min, offset_mm, distance_mm });
    const level = source.level * effects.inletShare * now.levelFactor * (corona ? CORONA_SIGNAL.share : 1);
    const scatter = corona ? Math.max(CORONA_SIGNAL.scatter, source.scatter) : source.scatter;

    ticks++;
    Object.assign(state, {
      time_s: ticks * dt,
      regime,
      jets,
      ratio,
      onset_V,
      tip_V,
      flow_nL_min,
      pulsation: emission.pulsation,
      jetStands: emission.jetStands,
      corona,
      arcing,
      gas: now.gas,
      drop: drops.radius(),
      contact,
      tilt_deg,
      jet: atTip > 0 ? jetDiameter(liquid, atTip / Math.max(1, jets)) : 0,
      pressure_bar: pressure,
      current_A,
      level,
    } satisfies BenchState);
    const scan = scans(level, scatter, state.time_s, dt);
    if (scan) scan.level *= odd(effects.oddScans, offset_mm);
    return now.scanning ? scan : undefined;
  }

  const bench: Bench = {
    truth,
    meter,
    samplesPerTick: Math.round(meter.rate_Hz * TICK_S),
    scan_s,
    tip,
    state,
    now: timer.tick(0, 0, 0, 0),
    tick,
  };
  return bench;
}

/** Arcs of a gap that breaks down, and what one leaves of the supply's voltage for a moment. Judgement. */
const ARCS_PER_S = 15;
const AFTER_ARC = 0.1;

/** The liquid that waits behind gas leaves first as one drop: share of its Rayleigh charge, radius over the contact line's. */
const AFTER_GAS = { share: 0.5, size: 2 };

function toward(value: number, goal: number, lag_s: number): number {
  return value + (goal - value) * Math.min(1, TICK_S / lag_s);
}

function expectedCharge({ steady_A, pulses, charges }: Drive, dt: number): number {
  const beats = pulses ? pulses.frequency_Hz * pulses.charge_C * Math.min(1, pulses.burst?.duty ?? 1) : 0;
  return (steady_A + beats) * dt + charges.reduce((sum, { charge_C }) => sum + charge_C, 0);
}
