/**
 * The hidden truth of one rehearsed bench: the emitter as it really is, drawn about what its label says, and perhaps one fault.
 * The spreads of the window are the plan's own priors, so a plan calibrated on rehearsed readings proves nothing about a real
 * emitter. A seed and its options give one truth on every machine.
 */
import { VACUUM_PERMITTIVITY } from '../../core/constants.ts';
import { inputError } from '../../core/errors.ts';
import { liquidProperties } from '../../core/liquid/index.ts';
import { type RandomStream, randomStream } from '../../core/random.ts';
import type { Setup } from '../../core/setup.ts';
import { MN_M } from '../../core/units.ts';
import { between } from '../../core/window/index.ts';
import * as prior from '../../core/window/priors.ts';
import type { FaultEffects } from './fault-effects.ts';
import { faultEffects, faultsFor, rehearsedFault } from './rehearsed-faults.ts';

export interface TruthOptions {
  /** Whole number. */
  seed: number;
  /** What is written on the emitter's box and the bottle; default: `rehearsalSetup`. */
  setup?: Setup;
  /** 'none' (default), 'random', 'maybe' (random in three of four), or an id of `REHEARSED_FAULTS`. */
  fault?: string;
  /** When the fault sets in [s]; default 0: it is there from the start. */
  faultFrom_s?: number;
}

export interface BenchTruth {
  seed: number;
  setup: Setup;
  /** Radius of the contact line of the sound tip [m], and the rim the onset is solved for [m]. */
  contactRadius: number;
  rimRadius: number;
  /** Inlet instead of a plane, parts as built: factor on every onset. */
  onsetFactor: number;
  /** Pressure at the meniscus [γ/a]. */
  pressure: number;
  /** SI. */
  liquid: { surfaceTension: number; density: number; conductivity: number; permittivity: number };
  /** Share of the modelled conductivity. */
  conductivityFactor: number;
  /** Ratios to the onset. */
  steadyFrom: number;
  tiltFrom: number;
  severalFrom: number;
  /** A standing jet survives down to this share of `steadyFrom`. */
  returnShare: number;
  /** Best signal at this ratio. */
  bestRatio: number;
  /** I/√(γKQ). */
  currentFactor: number;
  /** [m3/s] */
  minimumFlow: number;
  /** Liquid of a burst in hemispheres of the contact line. */
  burstVolumes: number;
  /** Where the stage reads when the tip is on the inlet's axis [mm]. */
  centre_mm: number;
  bestDistance_mm: number;
  /** Growth of the contact line in a minute, relative. */
  ageing_per_min: number;
  /** Mains that every lead picks up [A]. */
  mains_A: number;
  fault: { id: string; name: string; from_s: number; effects: FaultEffects } | undefined;
}

/** The set-up of the rehearsal: an invented example, no one's bench. */
export const rehearsalSetup: Setup = {
  name: 'an invented bench to rehearse on',
  emitter: {
    bore_um: 10,
    rim_um: 20,
    taper_half_angle_deg: 8,
    shank_diameter_um: 360,
    free_length_mm: 10,
    material: 'fused silica',
    wets: 'rim',
  },
  liquid: {
    acetonitrile_percent: 20,
    methanol_percent: 0,
    propanol_2_percent: 0,
    additive: 'formic acid',
    additive_percent: 0.1,
    temperature_C: 25,
  },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 3, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'tip', column: [] },
};

/** Spreads as standard deviations of logarithms, or of millimetres. Judgement. */
const SPREAD = { rim: 0.08, contact: 0.04, onset: 0.1, conductivity: 0.3, tension: 0.03, centre_mm: 0.4 };
const BEST_DISTANCE_MM = { middle: 2.6, spread: 0.12 };
/** One bench in four is sound where the fault may be absent. */
const SOUND_SHARE = 0.25;

export function benchTruth(options: TruthOptions): BenchTruth {
  const { seed } = options;
  if (!Number.isInteger(seed) || seed < 0)
    throw inputError('invalid', 'seed', String(seed), 'a whole number from 0');
  const setup = options.setup ?? rehearsalSetup;
  if (setup.feed.kind !== 'pumped')
    throw inputError('invalid', 'feed.kind', setup.feed.kind, 'a pumped feed: only that is rehearsed');
  if (setup.emitter.wets === 'shank')
    throw inputError('invalid', 'emitter.wets', 'shank', 'bore or rim: flooding is one of the faults');
  const draw = randomStream(seed, 'bench truth');
  const nominal = liquidProperties(setup.liquid);
  const conductivityFactor = draw.factor(SPREAD.conductivity);
  const liquid = {
    surfaceTension: nominal.surface_tension_mN_m.value * MN_M * draw.factor(SPREAD.tension),
    density: nominal.density_kg_m3.value,
    conductivity: nominal.conductivity_S_m.value * conductivityFactor,
    permittivity: nominal.permittivity_relative.value,
  };
  const rimRadius = (setup.emitter.rim_um / 2) * 1e-6 * draw.factor(SPREAD.rim);
  const held = setup.emitter.wets === 'rim' ? rimRadius : (setup.emitter.bore_um / 2) * 1e-6;
  const steadyFrom =
    1 + between({ low: prior.STEADY_FROM.low - 1, high: prior.STEADY_FROM.high - 1 }, bounded(draw.normal()));
  const severalFrom = Math.max(
    between(prior.SEVERAL_FROM, bounded(draw.normal())),
    steadyFrom * NARROWEST_WINDOW,
  );
  const tilt = draw.between(prior.TILT_SHARE.low, prior.TILT_SHARE.high);
  const tiltFrom = steadyFrom + (severalFrom - steadyFrom) * tilt;
  const minimumShare = draw.between(prior.MINIMUM_FLOW_SHARE.low, prior.MINIMUM_FLOW_SHARE.high);
  return {
    seed,
    setup,
    rimRadius,
    contactRadius: held * draw.factor(SPREAD.contact),
    onsetFactor: draw.factor(SPREAD.onset),
    pressure: draw.between(-0.2, 0.4),
    liquid,
    conductivityFactor,
    steadyFrom,
    tiltFrom,
    severalFrom,
    returnShare: draw.between(prior.RETURN_SHARE.low, prior.RETURN_SHARE.high),
    bestRatio: steadyFrom + Math.min(BEST_SHARE * (tiltFrom - steadyFrom), BEST_ABOVE),
    currentFactor: draw.between(prior.CURRENT_FACTOR.low, prior.CURRENT_FACTOR.high),
    minimumFlow:
      (minimumShare * liquid.permittivity * liquid.surfaceTension * VACUUM_PERMITTIVITY) /
      (liquid.density * liquid.conductivity),
    burstVolumes: Math.exp(draw.between(Math.log(4), Math.log(40))),
    centre_mm: centre_mm(draw),
    bestDistance_mm: BEST_DISTANCE_MM.middle * draw.factor(BEST_DISTANCE_MM.spread),
    ageing_per_min: draw.between(0, 0.003),
    mains_A: draw.between(2e-11, 2e-10),
    fault: hiddenFault(options, setup.polarity),
  };
}

/** Where a stage reads when the tip is on the inlet's axis. */
export function centre_mm(draw: RandomStream): number {
  return SPREAD.centre_mm * bounded(draw.normal());
}

/** A rehearsal needs room between its edges: the prior's narrowest windows are left out. */
const NARROWEST_WINDOW = 1.12;
/** The best point lies this share of the way from the lower edge to the tilt, and no further above the edge. Judgement. */
const BEST_SHARE = 0.55;
const BEST_ABOVE = 0.1;

/** An emitter in the far tail would only puzzle. */
const MOST_SIGMA = 1.3;

function bounded(z: number): number {
  return Math.min(MOST_SIGMA, Math.max(-MOST_SIGMA, z));
}

function hiddenFault(
  { seed, fault = 'none', faultFrom_s = 0 }: TruthOptions,
  polarity: Setup['polarity'],
): BenchTruth['fault'] {
  const choice = randomStream(seed, 'bench fault');
  const lot = choice.unit();
  const all = faultsFor(polarity);
  const any = all[choice.index(all.length)]!;
  if (fault === 'none' || (fault === 'maybe' && lot < SOUND_SHARE)) return undefined;
  const { id, name } = fault === 'random' || fault === 'maybe' ? any : rehearsedFault(fault, polarity);
  return { id, name, from_s: faultFrom_s, effects: faultEffects(id, randomStream(seed, 'fault size')) };
}
