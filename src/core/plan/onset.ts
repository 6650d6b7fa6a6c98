/** Onset of a set-up by the closed form, with what takes it outside its validity put into words. */
import { type Estimate, estimateRelative } from '../estimate.ts';
import type { LiquidProperties } from '../liquid/index.ts';
import type { Setup } from '../setup.ts';
import { SOURCES } from '../sources.ts';
import { MM, MN_M } from '../units.ts';
import {
  DISTANCE_OVER_RADIUS_HIGH,
  DISTANCE_OVER_RADIUS_LOW,
  onsetClosed,
  SHAPE_FACTOR_LAST_DEG,
} from '../window/index.ts';
import { effectiveTaper_deg } from './geometry.ts';

/** Blind accuracy of the closed onset formula. */
const ONSET_RELATIVE = 0.35;
/** A wall this much wider than the contact line is no longer a sharp rim. */
const SHARP_RIM = 1.1;

export function onsetOf(setup: Setup, liquid: LiquidProperties, radius: number): Estimate {
  const distance = setup.inlet.distance_mm * MM;
  const taper = effectiveTaper_deg(setup);
  const ratio = distance / radius;
  const outer = setup.emitter.wets === 'bore' ? setup.emitter.rim_um / setup.emitter.bore_um : 1;
  const notes: string[] = [];
  if (outer > SHARP_RIM)
    notes.push(
      'the wall outside the contact line shields the meniscus: the closed formula is low here, by 17 to 72 % on computed rims',
    );
  if (ratio < DISTANCE_OVER_RADIUS_LOW || ratio > DISTANCE_OVER_RADIUS_HIGH)
    notes.push(
      `distance over contact radius is ${ratio.toPrecision(3)}; the shape factor was computed for ${DISTANCE_OVER_RADIUS_LOW} to ${DISTANCE_OVER_RADIUS_HIGH}`,
    );
  if (taper > SHAPE_FACTOR_LAST_DEG)
    notes.push(`taper above ${SHAPE_FACTOR_LAST_DEG}°: the shape factor is held at its last value`);
  if (setup.inlet.angle_deg > 30)
    notes.push(
      `emitter at ${setup.inlet.angle_deg}° to the inlet axis: the formula assumes a plane in front of the tip`,
    );
  if (Math.abs(setup.inlet.lateral_offset_mm) > setup.inlet.distance_mm)
    notes.push('lateral offset beyond the distance: the inlet is no longer a plane in front of the tip');
  const value = onsetClosed({
    surfaceTension: liquid.surface_tension_mN_m.value * MN_M,
    contactRadius: radius,
    distance,
    taperHalfAngle_deg: taper,
  });
  const base = estimateRelative(value, ONSET_RELATIVE, {
    basis: 'closed form with the shape factor of the taper, contact line of the set-up, no feed pressure',
    sources: [SOURCES.smith1986, SOURCES.taylor1964, SOURCES.shapeFactor],
    valid: notes.length === 0,
    ...(notes.length === 0 ? {} : { note: notes.join('; ') }),
  });
  return { ...base, low: Math.max(base.low, value * LEAST_ONSET_SHARE) };
}
/** A doubled range may not reach zero volts: feed overpressure up to 1.5 γ/R halves the onset (computed), no more is assumed. */
const LEAST_ONSET_SHARE = 0.3;
