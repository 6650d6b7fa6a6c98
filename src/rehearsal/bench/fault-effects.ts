/** What a fault can change in the rehearsed bench. A fault of the catalogue is a choice among these, each with a drawn size. */

export interface FaultEffects {
  /** Share of what the pump is told that it delivers, and share of that which reaches the tip. */
  pumpShare: number;
  flowShare: number;
  /** The flow dies away to a share with this time constant [s], 0: it does not; for want of delivery, or at a plug. */
  flowDecay: { time_s: number; share: number; at: 'pump' | 'tip' };
  /** Slow wandering of the flow: relative deviation, memory [s]; the line also follows the pump slower by `lag_s`. */
  flowWander: { sd: number; memory_s: number; lag_s: number };
  /** Share of the flow, and period at 300 nL/min [s]: the period goes as 1/Q. */
  ripple: { share: number; period_s: number };
  /** Gas pieces per second whatever the voltage, and per nanocoulomb that passed. */
  gas: { perSecond: number; perNanocoulomb: number; shortest_s: number; longest_s: number };
  /** Once, or every so many seconds, one thing is a share of itself for a while; a signal comes and goes smoothly. */
  spell: Spell;
  /** Radius of the contact line over its sound place, and its growth. */
  contactFactor: number;
  contactGrowth_per_min: number;
  /** The contact line hops between two seats: relative size, hops per second, share of the flow that the narrow one leaves. */
  hops: { size: number; perSecond: number; flowShare: number };
  /** A drop of this volume gathers beside the tip, widens the contact line by up to `size`, falls, and begins again. */
  beside: { volume_nL: number; size: number };
  /** The jet leaves at this angle [°]; further jets wherever one stands. */
  tilt_deg: number;
  extraJets: number;
  /** True minus shown [mm], how fast the axis wanders [mm/min], and how it flickers. */
  distanceError_mm: number;
  offsetError_mm: number;
  offsetDrift_mm_min: number;
  offsetFlicker: { sd_mm: number; memory_s: number };
  /** Extra pressure in front of the pump, as a share, and growth per second of a closed line. */
  pressureShare: number;
  pressureGrowth_per_s: number;
  /** Path beside the spray [ohm], 0: none; relative wandering of what flows there. */
  leak_ohm: number;
  leakWander: number;
  /** Amplitude of the mains in the current [A]. */
  mains_A: number;
  /** Slow wandering of the tip's voltage, relative. */
  voltageWander: number;
  /** Liquid between contact and tip [ohm]. */
  column_ohm: number;
  /** The high voltage drops out so often [1/s], for so long [s]. */
  dropouts: { perSecond: number; shortest_s: number; longest_s: number };
  /** Corona starts at this V/V_on of a sound tip, arcs at that; Infinity: by the physics alone. */
  coronaFrom: number;
  arcs: { from: number; perSecond: number };
  conductivityFactor: number;
  tensionFactor: number;
  /** Surface tension on top of that, from one factor to another over this time [s]. */
  tensionCourse: { from: number; to: number; over_s: number };
  /** Share of the sampled ions that gets past the inlet and the chemistry. */
  inletShare: number;
  /** Where the voltage was left, in files only: a share of the way from the onset to the steady edge, or a factor on where several jets begin; 0: neither. */
  leftLow: number;
  leftHigh: number;
  /** Eluting peaks of a written run: factor on their width, and time constant of a tail [s]. */
  peakWidth: number;
  peakTail_s: number;
  /** Share of scans that are wrong, and the factors they are between; on the axis only: wet droplets. */
  oddScans: { share: number; low: number; high: number; onAxis: boolean };
}

export interface Spell {
  what: 'nothing' | 'gas' | 'voltage' | 'flow' | 'signal' | 'scans';
  share: number;
  from_s: number;
  lasts_s: number;
  /** 0: once. */
  every_s: number;
}

export const NO_EFFECTS: FaultEffects = {
  pumpShare: 1,
  flowShare: 1,
  flowDecay: { time_s: 0, share: 1, at: 'pump' },
  flowWander: { sd: 0, memory_s: 1, lag_s: 0 },
  ripple: { share: 0, period_s: 1 },
  gas: { perSecond: 0, perNanocoulomb: 0, shortest_s: 0, longest_s: 0 },
  spell: { what: 'nothing', share: 1, from_s: 0, lasts_s: 0, every_s: 0 },
  contactFactor: 1,
  contactGrowth_per_min: 0,
  hops: { size: 0, perSecond: 0, flowShare: 1 },
  beside: { volume_nL: 0, size: 0 },
  tilt_deg: 0,
  extraJets: 0,
  distanceError_mm: 0,
  offsetError_mm: 0,
  offsetDrift_mm_min: 0,
  offsetFlicker: { sd_mm: 0, memory_s: 1 },
  pressureShare: 0,
  pressureGrowth_per_s: 0,
  leak_ohm: 0,
  leakWander: 0,
  mains_A: 0,
  voltageWander: 0,
  column_ohm: 0,
  dropouts: { perSecond: 0, shortest_s: 0, longest_s: 0 },
  coronaFrom: Number.POSITIVE_INFINITY,
  arcs: { from: Number.POSITIVE_INFINITY, perSecond: 0 },
  conductivityFactor: 1,
  tensionFactor: 1,
  tensionCourse: { from: 1, to: 1, over_s: 1 },
  inletShare: 1,
  leftLow: 0,
  leftHigh: 0,
  peakWidth: 1,
  peakTail_s: 0,
  oddScans: { share: 0, low: 1, high: 1, onAxis: false },
};
