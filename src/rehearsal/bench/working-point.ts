/** Where this hidden emitter works best, and how near a chosen point comes; what a rehearsal is judged by. */
import { NL_MIN } from '../../core/units.ts';
import type { Bench } from './bench.ts';
import type { BenchControls } from './controls.ts';
import { NO_EFFECTS } from './fault-effects.ts';
import { flowLevel, ringRadius_mm, shareOf } from './source.ts';

export interface BestPoint {
  voltage_V: number;
  offset_mm: number;
  /** Where the plume meets the inlet's axis; as far on its other side the signal is the same. */
  axis_mm: number;
  distance_mm: number;
  /** Signal of that point at this flow. */
  level: number;
  /** No voltage holds a steady jet: too little liquid reaches the tip. */
  none: boolean;
}

/** The best of voltage, offset and distance at the flow that is set, as the bench stands at this moment; gas and interruptions apart. */
export function bestPoint(bench: Bench, controls: BenchControls): BestPoint {
  const { truth, state, now } = bench;
  const { effects } = now;
  const distance_mm = Math.max(1, truth.bestDistance_mm - effects.distanceError_mm);
  const flow = controls.flow_nL_min * effects.pumpShare * effects.flowShare * decayed(bench);
  const tension = truth.liquid.surfaceTension * now.tensionFactor;
  const contact = state.contact > 0 ? state.contact : truth.contactRadius;
  const onset = bench.tip.onset(contact, (distance_mm + effects.distanceError_mm) * 1e-3, tension);
  const aside = (distance_mm + effects.distanceError_mm) * Math.tan((effects.tilt_deg * Math.PI) / 180);
  const current =
    truth.currentFactor *
    Math.sqrt(tension * truth.liquid.conductivity * effects.conductivityFactor * flow * NL_MIN);
  const least = (truth.minimumFlow * now.tensionFactor) / effects.conductivityFactor;
  const axis_mm = truth.centre_mm + now.offsetDrift_mm - aside;
  const jets = effects.extraJets > 0 ? shareOf('several jets') : 1;
  return {
    voltage_V: truth.bestRatio * onset + current * effects.column_ohm,
    offset_mm: axis_mm + ringRadius_mm(flow),
    axis_mm,
    distance_mm,
    level: flowLevel(flow) * effects.inletShare * jets,
    none: flow * NL_MIN < least,
  };
}

function decayed({ truth, state, now }: Bench): number {
  const { time_s, share } = now.effects.flowDecay;
  if (time_s === 0) return 1;
  return share + (1 - share) * Math.exp(-(state.time_s - (truth.fault?.from_s ?? 0)) / time_s);
}

/** The best supply voltage at the position that is set [V], to the step of the supply. */
export function workingVoltage(bench: Bench, controls: BenchControls): number {
  return stepped(bench.truth.bestRatio * standingOnset(bench, controls));
}

/** Where a person left the voltage, if the fault is that; undefined for every other. */
export function leftVoltage(bench: Bench, controls: BenchControls): number | undefined {
  const { truth } = bench;
  const { leftLow, leftHigh } = truth.fault?.effects ?? NO_EFFECTS;
  const onset = standingOnset(bench, controls);
  if (leftLow > 0) return stepped((1 + leftLow * (truth.steadyFrom - 1)) * onset);
  return leftHigh > 0 ? stepped(leftHigh * truth.severalFrom * onset) : undefined;
}

function standingOnset(bench: Bench, controls: BenchControls): number {
  const { truth } = bench;
  const effects = truth.fault?.from_s === 0 ? truth.fault.effects : NO_EFFECTS;
  const distance = (controls.distance_mm + effects.distanceError_mm) * 1e-3;
  const tension = truth.liquid.surfaceTension * effects.tensionFactor;
  return bench.tip.onset(truth.contactRadius * effects.contactFactor, distance, tension);
}

function stepped(volts: number): number {
  return Math.round(volts / 10) * 10;
}
