/**
 * What each rehearsed fault of the catalogue changes in the bench, drawn within everyday sizes. Sizes are judgement after the
 * catalogue's own numbers (core/causes/faults); a real fault may be smaller, larger, or two at once.
 */
import { FAULTS } from '../../core/causes/index.ts';
import { inputError } from '../../core/errors.ts';
import type { RandomStream } from '../../core/random.ts';

export interface FaultEffects {
  /** Share of the pumped flow that reaches the tip. */
  flowShare: number;
  /** The flow dies away with this time constant [s]; 0: it does not. */
  flowDecay_s: number;
  /** Share of the flow, and period at 300 nL/min [s]: the period goes as 1/Q. */
  ripple: { share: number; period_s: number };
  /** Gas pieces per second whatever the voltage, and per nanocoulomb that passed. */
  gas: { perSecond: number; perNanocoulomb: number; shortest_s: number; longest_s: number };
  /** Radius of the contact line over its sound place. */
  contactFactor: number;
  /** The contact line hops between two seats: relative size, hops per second. */
  hops: { size: number; perSecond: number };
  /** The jet leaves at this angle [°]. */
  tilt_deg: number;
  /** True minus shown [mm], and how fast the axis wanders [mm/min]. */
  distanceError_mm: number;
  offsetError_mm: number;
  offsetDrift_mm_min: number;
  /** Extra pressure in front of the pump, as a share, and growth per second of a closed line. */
  pressureShare: number;
  pressureGrowth_per_s: number;
  /** Path beside the spray [ohm], 0: none. */
  leak_ohm: number;
  /** Amplitude of the mains in the current [A]. */
  mains_A: number;
  /** Slow wandering of the tip's voltage, relative. */
  voltageWander: number;
  /** Liquid between contact and tip [ohm]. */
  column_ohm: number;
  /** The high voltage drops out so often [1/s]. */
  dropouts_per_s: number;
  /** Corona starts at this V/V_on of a sound tip; Infinity: by the physics alone. */
  coronaFrom: number;
  conductivityFactor: number;
  tensionFactor: number;
  /** Share of the sampled ions that gets past the inlet and the chemistry. */
  inletShare: number;
}

export const NO_EFFECTS: FaultEffects = {
  flowShare: 1,
  flowDecay_s: 0,
  ripple: { share: 0, period_s: 1 },
  gas: { perSecond: 0, perNanocoulomb: 0, shortest_s: 0, longest_s: 0 },
  contactFactor: 1,
  hops: { size: 0, perSecond: 0 },
  tilt_deg: 0,
  distanceError_mm: 0,
  offsetError_mm: 0,
  offsetDrift_mm_min: 0,
  pressureShare: 0,
  pressureGrowth_per_s: 0,
  leak_ohm: 0,
  mains_A: 0,
  voltageWander: 0,
  column_ohm: 0,
  dropouts_per_s: 0,
  coronaFrom: Number.POSITIVE_INFINITY,
  conductivityFactor: 1,
  tensionFactor: 1,
  inletShare: 1,
};

const sign = (draw: RandomStream) => (draw.unit() < 0.5 ? -1 : 1);

/** Each draws its own size; ids are those of the catalogue. */
const EFFECTS: Record<string, (draw: RandomStream) => Partial<FaultEffects>> = {
  'leak-after-column': (d) => ({ flowShare: d.between(0.1, 0.45) }),
  'pump-not-delivering': (d) => ({ flowDecay_s: d.between(20, 60) }),
  'pump-pulsation': (d) => ({ ripple: { share: d.between(0.2, 0.45), period_s: d.between(2.5, 8) } }),
  outgassing: (d) => ({
    gas: { perSecond: d.between(0.15, 0.5), perNanocoulomb: 0, shortest_s: 0.1, longest_s: 1.2 },
  }),
  'electrolysis-gas': (d) => ({
    gas: { perSecond: 0, perNanocoulomb: 1 / d.between(200, 700), shortest_s: 0.2, longest_s: 0.9 },
  }),
  'partial-clog': (d) => ({
    contactFactor: d.between(0.6, 0.9),
    hops: { size: d.between(0.25, 0.5), perSecond: d.between(1, 4) },
    tilt_deg: sign(d) * d.between(8, 20),
    pressureShare: d.between(0.1, 0.5),
  }),
  'full-clog': (d) => ({ flowShare: 0, pressureGrowth_per_s: d.between(0.01, 0.04) }),
  'tip-wetted': (d) => ({ contactFactor: d.between(2, 4.5) }),
  'tip-broken': (d) => ({
    contactFactor: d.between(1.5, 2.4),
    tilt_deg: sign(d) * d.between(12, 28),
    hops: { size: d.between(0.06, 0.12), perSecond: d.between(0.5, 2) },
  }),
  'tilted-face': (d) => ({ tilt_deg: sign(d) * d.between(12, 25) }),
  'distance-wrong': (d) => ({ distanceError_mm: d.between(2, 4) }),
  'offset-drift': (d) => {
    const side = sign(d);
    return { offsetError_mm: side * d.between(0.4, 0.8), offsetDrift_mm_min: side * d.between(0.4, 0.9) };
  },
  'corona-positive': (d) => ({ coronaFrom: d.between(0.9, 1.1) }),
  leakage: (d) => ({ leak_ohm: d.between(3e9, 1.2e10) }),
  'floating-ground': (d) => ({
    leak_ohm: d.between(2e9, 4e9),
    mains_A: d.between(2e-8, 6e-8),
    voltageWander: d.between(0.01, 0.025),
  }),
  'loose-contact': (d) => ({ dropouts_per_s: d.between(0.2, 0.7) }),
  'drop-in-column-voltage': (d) => ({ column_ohm: d.between(1.5e9, 3.5e9) }),
  'conductivity-high': (d) => ({
    conductivityFactor: d.between(5, 12),
    inletShare: d.between(0.2, 0.45),
  }),
  surfactant: (d) => ({ tensionFactor: d.between(0.5, 0.68), inletShare: d.between(0.25, 0.6) }),
  'inlet-dirty': (d) => ({ inletShare: d.between(0.08, 0.3) }),
};

export interface RehearsedFault {
  id: string;
  name: string;
}

/** In the order of the catalogue. */
export const REHEARSED_FAULTS: readonly RehearsedFault[] = FAULTS.filter(({ id }) => id in EFFECTS).map(
  ({ id, name }) => ({ id, name }),
);

export function rehearsedFault(id: string): RehearsedFault {
  const found = REHEARSED_FAULTS.find((fault) => fault.id === id);
  if (found === undefined)
    throw inputError(
      'unknown',
      'fault',
      id,
      `none, random or one of ${REHEARSED_FAULTS.map((fault) => fault.id).join(', ')}`,
    );
  return found;
}

export function faultEffects(id: string, draw: RandomStream): FaultEffects {
  return { ...NO_EFFECTS, ...EFFECTS[rehearsedFault(id).id]!(draw) };
}
