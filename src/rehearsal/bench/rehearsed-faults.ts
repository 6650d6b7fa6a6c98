/**
 * The faults of the catalogue that the bench can play, those that only written files can (the person at the bench would make them, or they show in eluting peaks), each drawn within everyday sizes, and those
 * that are not played, with the reason.
 * Sizes are judgement after the catalogue's own numbers (core/causes/faults), minutes shortened to seconds; a real fault may be
 * smaller, larger, or two at once.
 */
import { FAULTS } from '../../core/causes/index.ts';
import { inputError } from '../../core/errors.ts';
import type { RandomStream } from '../../core/random.ts';
import type { Setup } from '../../core/setup.ts';
import { type FaultEffects, NO_EFFECTS } from './fault-effects.ts';

export interface RehearsedFault {
  id: string;
  name: string;
  family: string;
}

const sign = (draw: RandomStream) => (draw.unit() < 0.5 ? -1 : 1);

/** Each draws its own size; ids are those of the catalogue. */
const EFFECTS: Record<string, (draw: RandomStream) => Partial<FaultEffects>> = {
  'leak-after-column': (d) => ({ flowShare: d.between(0.1, 0.45) }),
  'leak-before-column': (d) => ({ pumpShare: d.between(0.15, 0.5) }),
  'pump-not-delivering': (d) => ({ flowDecay: { time_s: d.between(20, 60), share: 0.04, at: 'pump' } }),
  'pump-pulsation': (d) => ({ ripple: { share: d.between(0.2, 0.45), period_s: d.between(2.5, 8) } }),
  'trapped-air': (d) => ({
    flowWander: { sd: d.between(0.5, 0.7), memory_s: d.between(6, 15), lag_s: d.between(3, 6) },
  }),
  'air-bubble': (d) => ({
    spell: { what: 'gas', share: 0, from_s: d.between(20, 45), lasts_s: d.between(1.5, 6), every_s: 0 },
  }),
  'switching-transient': (d) => ({
    spell: { what: 'flow', share: 0, from_s: d.between(20, 40), lasts_s: d.between(8, 20), every_s: 0 },
  }),
  outgassing: (d) => ({
    gas: { perSecond: d.between(0.15, 0.5), perNanocoulomb: 0, shortest_s: 0.1, longest_s: 1.2 },
  }),
  'electrolysis-gas': (d) => ({
    gas: { perSecond: 0, perNanocoulomb: 1 / d.between(200, 700), shortest_s: 0.2, longest_s: 0.9 },
  }),
  'partial-clog': (d) => ({
    contactFactor: d.between(0.6, 0.9),
    hops: { size: d.between(0.25, 0.5), perSecond: d.between(1, 4), flowShare: 1 },
    tilt_deg: sign(d) * d.between(8, 20),
    pressureShare: d.between(0, 0.04),
  }),
  'full-clog': (d) => ({ flowShare: 0, pressureGrowth_per_s: d.between(0.01, 0.04) }),
  'loose-particle': (d) => ({
    hops: { size: d.between(0.4, 0.7), perSecond: d.between(0.1, 0.25), flowShare: d.between(0.1, 0.4) },
  }),
  'sample-plug': (d) => ({
    flowDecay: { time_s: d.between(15, 40), share: d.between(0.1, 0.3), at: 'tip' },
    hops: { size: d.between(0.1, 0.2), perSecond: d.between(1, 3), flowShare: 1 },
    conductivityFactor: d.between(2, 4),
    inletShare: d.between(0.3, 0.6),
    pressureGrowth_per_s: d.between(0.001, 0.004),
  }),
  'tip-wetted': (d) => ({ contactFactor: d.between(2, 4.5) }),
  'tip-broken': (d) => ({
    contactFactor: d.between(1.5, 2.4),
    tilt_deg: sign(d) * d.between(12, 28),
    hops: { size: d.between(0.06, 0.12), perSecond: d.between(0.5, 2), flowShare: 1 },
  }),
  'tilted-face': (d) => ({ tilt_deg: sign(d) * d.between(12, 25) }),
  'dried-tip': (d) => ({
    flowShare: d.between(0.1, 0.35),
    hops: { size: d.between(0.2, 0.4), perSecond: d.between(3, 8), flowShare: 1 },
    pressureShare: d.between(0.1, 0.3),
  }),
  'packing-bleeds': (d) => ({
    pressureShare: -d.between(0.15, 0.35),
    contactFactor: d.between(0.7, 0.95),
    hops: { size: d.between(0.15, 0.3), perSecond: d.between(2, 6), flowShare: 1 },
    inletShare: d.between(0.5, 0.8),
  }),
  'coating-gone': (d) => ({
    dropouts: { perSecond: d.between(0.1, 0.25), shortest_s: 0.8, longest_s: 4 },
    column_ohm: d.between(5e8, 1.5e9),
  }),
  'coating-swells': (d) => ({
    contactFactor: d.between(1.15, 1.5),
    hops: { size: d.between(0.05, 0.1), perSecond: d.between(2, 6), flowShare: 1 },
    inletShare: d.between(0.4, 0.7),
  }),
  fibre: (d) => ({
    extraJets: 1,
    contactFactor: d.between(0.65, 0.85),
    tilt_deg: sign(d) * d.between(5, 15),
  }),
  'hanging-drop': (d) => ({ beside: { volume_nL: d.between(10, 35), size: d.between(0.3, 0.7) } }),
  ageing: (d) => ({ contactGrowth_per_min: d.between(0.2, 0.5) }),
  'distance-wrong': (d) => ({ distanceError_mm: d.between(2, 4) }),
  'offset-drift': (d) => {
    const side = sign(d);
    return { offsetError_mm: side * d.between(0.4, 0.8), offsetDrift_mm_min: side * d.between(0.4, 0.9) };
  },
  draught: (d) => ({ offsetFlicker: { sd_mm: d.between(0.3, 0.5), memory_s: d.between(1, 4) } }),
  climate: (d) => ({
    leak_ohm: d.between(8e9, 2e10),
    leakWander: d.between(0.3, 0.5),
    offsetFlicker: { sd_mm: d.between(0.15, 0.25), memory_s: 10 },
  }),
  'corona-positive': (d) => ({ coronaFrom: d.between(0.9, 1.1) }),
  'corona-negative': (d) => ({ coronaFrom: d.between(0.85, 1.05) }),
  arcing: (d) => ({ arcs: { from: d.between(0.95, 1.1), perSecond: d.between(1, 4) } }),
  leakage: (d) => ({ leak_ohm: d.between(3e9, 1.2e10) }),
  'floating-ground': (d) => ({
    leak_ohm: d.between(2e9, 4e9),
    mains_A: d.between(2e-8, 6e-8),
    voltageWander: d.between(0.01, 0.025),
  }),
  'loose-contact': (d) => ({
    dropouts: { perSecond: d.between(0.2, 0.7), shortest_s: 0.03, longest_s: 0.6 },
  }),
  'current-limit': (d) => {
    const every_s = d.between(0.6, 2);
    return {
      leak_ohm: d.between(1e9, 2e9),
      spell: { what: 'voltage', share: d.between(0.2, 0.5), from_s: 0, lasts_s: 0.35 * every_s, every_s },
    };
  },
  'polarity-switching': (d) => ({
    spell: { what: 'voltage', share: 0, from_s: 0, lasts_s: d.between(1, 3), every_s: d.between(8, 14) },
  }),
  'high-voltage-off': (d) => ({
    spell: { what: 'voltage', share: 0, from_s: 0, lasts_s: d.between(15, 35), every_s: 0 },
  }),
  'drop-in-column-voltage': (d) => ({ column_ohm: d.between(1.5e9, 3.5e9) }),
  'conductivity-high': (d) => ({
    conductivityFactor: d.between(5, 12),
    inletShare: d.between(0.2, 0.45),
  }),
  'mobile-phase-wrong': (d) => ({
    conductivityFactor: d.between(0.1, 0.3),
    inletShare: d.between(0.3, 0.6),
  }),
  surfactant: (d) => ({ tensionFactor: d.between(0.5, 0.68), inletShare: d.between(0.25, 0.6) }),
  'aqueous-start': (d) => ({
    tensionCourse: { from: d.between(1.4, 1.6), to: 1, over_s: d.between(40, 80) },
  }),
  'organic-end': (d) => ({
    tensionCourse: { from: 1, to: d.between(0.5, 0.6), over_s: d.between(30, 60) },
    conductivityFactor: d.between(0.5, 0.8),
  }),
  'suppression-or-valley': (d) => ({
    spell: {
      what: 'signal',
      share: d.between(0.05, 0.25),
      from_s: d.between(10, 20),
      lasts_s: d.between(20, 40),
      every_s: 90,
    },
  }),
  'column-bleed': (d) => ({ inletShare: d.between(1.6, 2.6) }),
  'inlet-dirty': (d) => ({ inletShare: d.between(0.08, 0.3) }),
  'inlet-blocked': (d) => ({
    inletShare: d.between(0.15, 0.4),
    oddScans: { share: d.between(0.06, 0.12), low: 2, high: 6, onAxis: false },
  }),
  'wet-droplets': (d) => ({
    oddScans: { share: d.between(0.15, 0.35), low: 2, high: 10, onAxis: true },
  }),
  'fill-control': (d) => ({
    oddScans: { share: d.between(0.15, 0.3), low: 0.1, high: 3, onAxis: false },
  }),
  detector: (d) => ({ inletShare: d.between(0.08, 0.4) }),
  'acquisition-gap': (d) => ({
    spell: {
      what: 'scans',
      share: 0,
      from_s: d.between(10, 20),
      lasts_s: d.between(5, 15),
      every_s: d.between(40, 70),
    },
  }),
};

/** Played by written files alone. */
const FILE_EFFECTS: typeof EFFECTS = {
  'voltage-low': (d) => ({ leftLow: d.between(0.3, 0.8) }),
  'voltage-high': (d) => ({ leftHigh: d.between(1.03, 1.1) }),
  'column-ageing-void': (d) => ({
    peakWidth: d.between(1.8, 3),
    pressureGrowth_per_s: d.between(0.001, 0.003),
  }),
  'union-dead-volume': (d) => ({ peakTail_s: d.between(12, 30) }),
};

/** Why the others are not played. */
export const NOT_REHEARSED: Readonly<Record<string, string>> = {
  'hidden-pulsation': 'here a pulsation always costs signal, so none looks fine',
  'static-dry': 'only a pumped feed is rehearsed',
  'static-no-start': 'only a pumped feed is rehearsed',
};

/** These change nothing but the signal's level: current, pressure and every knob answer alike. */
export const SAME_HERE: readonly (readonly string[])[] = [['inlet-dirty', 'detector']];

/** In the order of the catalogue. */
export const REHEARSED_FAULTS: readonly RehearsedFault[] = faultsWith(EFFECTS);

/** Only `rehearse` plays these, into its files: at the bench the person turns the voltage, and nothing elutes. */
export const FILE_FAULTS: readonly RehearsedFault[] = faultsWith(FILE_EFFECTS);

function faultsWith(effects: typeof EFFECTS): RehearsedFault[] {
  return FAULTS.filter(({ id }) => Object.hasOwn(effects, id)).map(({ id, name, family }) => ({
    id,
    name,
    family,
  }));
}

/** As a person would say it; 'none' is a sound bench. */
export function rehearsedFaultName(id: string): string {
  if (id === 'none') return 'nothing: it is sound';
  return [...REHEARSED_FAULTS, ...FILE_FAULTS].find((fault) => fault.id === id)?.name ?? id;
}

const OF_POLARITY: Readonly<Record<string, Setup['polarity']>> = {
  'corona-positive': 'positive',
  'corona-negative': 'negative',
};

/** Without those that belong to the other polarity. */
export function faultsFor(polarity: Setup['polarity']): readonly RehearsedFault[] {
  return REHEARSED_FAULTS.filter(({ id }) => (OF_POLARITY[id] ?? polarity) === polarity);
}

export function rehearsedFault(id: string, polarity: Setup['polarity']): RehearsedFault {
  const found = [...faultsFor(polarity), ...FILE_FAULTS].find((fault) => fault.id === id);
  if (found !== undefined) return found;
  const why = NOT_REHEARSED[id] ?? (Object.hasOwn(OF_POLARITY, id) ? 'belongs to the other polarity' : '');
  throw inputError(
    'unknown',
    'fault',
    why === '' ? id : `${id} (${why})`,
    `none, random or one of ${[...faultsFor(polarity), ...FILE_FAULTS].map((fault) => fault.id).join(', ')}`,
  );
}

export function faultEffects(id: string, draw: RandomStream): FaultEffects {
  return { ...NO_EFFECTS, ...(EFFECTS[id] ?? FILE_EFFECTS[id])?.(draw) };
}
