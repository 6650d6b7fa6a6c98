/** A set-up as the window sees it: tip, liquid, flow, feed pressure and the liquid column, in SI. */
import type { Estimate } from '../estimate.ts';
import type { LiquidPiece } from '../feed/index.ts';
import type { JetLiquid } from '../jet/index.ts';
import { type LiquidProperties, liquidProperties } from '../liquid/index.ts';
import type { Setup } from '../setup.ts';
import { DEG, MBAR, MM, MN_M, MPA_S, UM } from '../units.ts';
import { type ContactPlace, type TipGeometry, tipOnset, type WindowCondition } from '../window/index.ts';
import { flowAtTip } from './flow.ts';
import { contactRadius, emitterResistance, type Resistance } from './geometry.ts';

export interface Condition extends WindowCondition {
  liquid: LiquidProperties;
  jetLiquid: JetLiquid;
  flow_nL_min: Estimate;
  hydraulic: Resistance;
}

const PLACES: Record<Setup['emitter']['wets'], ContactPlace> = {
  bore: 'inner edge',
  rim: 'outer edge',
  shank: 'flooded shank',
};
/** A steeper emitter looks past the inlet. Judgement. */
const OBLIQUE_DEG = 30;
/** A pumped feed holds the meniscus near this pressure in γ/a; a static one at its gas pressure. */
const PUMPED_PRESSURE = 0.1;
/** Up to here the pressure law holds (window/tip-onset.ts); whether a higher one leaves an equilibrium at all says held-pressure.ts. */
export const MOST_STATIC_PRESSURE = 1.2;

export function conditionOf(
  setup: Setup,
  liquid: LiquidProperties = liquidProperties(setup.liquid),
): Condition {
  const jetLiquid: JetLiquid = {
    surfaceTension: liquid.surface_tension_mN_m.value * MN_M,
    density: liquid.density_kg_m3.value,
    conductivity: liquid.conductivity_S_m.value,
    permittivity: liquid.permittivity_relative.value,
  };
  const capillary = jetLiquid.surfaceTension / contactRadius(setup);
  const hydraulic = emitterResistance(setup, liquid.viscosity_mPa_s.value * MPA_S);
  const pressure =
    setup.feed.kind === 'pumped'
      ? PUMPED_PRESSURE
      : Math.min(MOST_STATIC_PRESSURE, (setup.feed.back_pressure_mbar * MBAR) / capillary);
  return {
    tip: tipOnset(tipGeometryOf(setup)),
    liquid,
    jetLiquid,
    flow_nL_min: flowAtTip(setup, hydraulic, capillary),
    hydraulic,
    polarity: setup.polarity,
    pressure,
    oblique: obliqueWords(setup) !== undefined,
    column: piecesOf(setup),
  };
}

/** Why the plane in front of the tip is a poor picture of this inlet; undefined where it is a fair one. */
export function obliqueWords(setup: Setup): string | undefined {
  if (setup.inlet.angle_deg > OBLIQUE_DEG)
    return `emitter at ${setup.inlet.angle_deg}° to the inlet axis: a plane in front of the tip is assumed`;
  if (Math.abs(setup.inlet.lateral_offset_mm) > setup.inlet.distance_mm)
    return 'lateral offset beyond the distance: the inlet is no longer a plane in front of the tip';
  return undefined;
}

export function piecesOf(setup: Setup): LiquidPiece[] {
  return setup.voltage.column.map((piece) => ({
    bore: piece.bore_um * UM,
    length: piece.length_mm * MM,
    openFraction: piece.open_fraction,
  }));
}

export function tipGeometryOf({ emitter, inlet }: Setup): TipGeometry {
  return {
    boreRadius: (emitter.bore_um * UM) / 2,
    rimRadius: (emitter.rim_um * UM) / 2,
    taper: emitter.taper_half_angle_deg * DEG,
    shankRadius: (emitter.shank_diameter_um * UM) / 2,
    length: emitter.free_length_mm * MM,
    distance: inlet.distance_mm * MM,
    place: PLACES[emitter.wets],
  };
}
