/** Where this hidden emitter works best, and how near a chosen point comes; what a rehearsal is judged by. */
import { NL_MIN } from '../../core/units.ts';
import type { Bench } from './bench.ts';
import type { BenchControls } from './controls.ts';
import { NO_EFFECTS } from './fault-effects.ts';
import { flowLevel, ringRadius_mm } from './source.ts';

export interface BestPoint {
  voltage_V: number;
  offset_mm: number;
  distance_mm: number;
  /** Signal of that point at this flow. */
  level: number;
  /** No voltage holds a steady jet: too little liquid reaches the tip. */
  none: boolean;
}

/** The best of voltage, offset and distance at the flow that is set, as the bench stands at this moment. */
export function bestPoint(bench: Bench, controls: BenchControls): BestPoint {
  const { truth, state } = bench;
  const fault = truth.fault !== undefined && state.time_s >= truth.fault.from_s ? truth.fault : undefined;
  const effects = fault?.effects ?? NO_EFFECTS;
  const distance_mm = Math.max(1, truth.bestDistance_mm - effects.distanceError_mm);
  const flow = controls.flow_nL_min * effects.flowShare;
  const tension = truth.liquid.surfaceTension * effects.tensionFactor;
  const contact = state.contact > 0 ? state.contact : truth.contactRadius;
  const onset = bench.tip.onset(contact, (distance_mm + effects.distanceError_mm) * 1e-3, tension);
  const aside = (distance_mm + effects.distanceError_mm) * Math.tan((effects.tilt_deg * Math.PI) / 180);
  const drift =
    effects.offsetError_mm + (effects.offsetDrift_mm_min * (state.time_s - (fault?.from_s ?? 0))) / 60;
  const current =
    truth.currentFactor *
    Math.sqrt(tension * truth.liquid.conductivity * effects.conductivityFactor * flow * NL_MIN);
  const least = (truth.minimumFlow * effects.tensionFactor) / effects.conductivityFactor;
  return {
    voltage_V: truth.bestRatio * onset + current * effects.column_ohm,
    offset_mm: truth.centre_mm + drift - aside + ringRadius_mm(flow),
    distance_mm,
    level: flowLevel(flow) * effects.inletShare,
    none: flow * NL_MIN < least,
  };
}

/** The best supply voltage at the position that is set [V], to the step of the supply. */
export function workingVoltage(bench: Bench, controls: BenchControls): number {
  const { truth } = bench;
  const effects = truth.fault?.from_s === 0 ? truth.fault.effects : NO_EFFECTS;
  const distance = (controls.distance_mm + effects.distanceError_mm) * 1e-3;
  const tension = truth.liquid.surfaceTension * effects.tensionFactor;
  const onset = bench.tip.onset(truth.contactRadius * effects.contactFactor, distance, tension);
  return Math.round((truth.bestRatio * onset) / 10) * 10;
}
