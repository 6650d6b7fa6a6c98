/** The emitter of a set-up in SI lengths, with what the hydraulic and electric laws need of it. */

import { straightResistance, taperedResistance } from '../feed/index.ts';
import { contactDiameter_um, type Setup } from '../setup.ts';
import { DEG, MM, UM } from '../units.ts';

/** Radius of the contact line [m]. */
export function contactRadius(setup: Setup): number {
  return (contactDiameter_um(setup.emitter) * UM) / 2;
}

/** The inlet's potential as the spray sees it [V]: what the supply must stand above to leave nothing across the gap. */
export function inletSide_V(setup: Setup): number {
  return (setup.polarity === 'positive' ? 1 : -1) * setup.inlet.potential_V;
}

/** Effective taper for the onset: a flooded shank acts as a straight wire. */
export function effectiveTaper_deg(setup: Setup): number {
  return setup.emitter.wets === 'shank' ? 0 : setup.emitter.taper_half_angle_deg;
}

/**
 * Hydraulic resistance of the emitter [Pa s/m3]. A bore that widens (a pulled tip keeps its bore-to-rim ratio: common
 * practice, no source) is known to half and twice its slope; a constant bore to its diameter's 3 %; unknown spans both.
 */
export function emitterResistance(setup: Setup, viscosity: number): Resistance {
  const { bore_um, rim_um, shank_diameter_um, taper_half_angle_deg, free_length_mm, inside } = setup.emitter;
  const length = free_length_mm * MM;
  const bore = bore_um * UM;
  const constant = straightResistance(viscosity, length, bore);
  const bored = { value: constant, low: constant * (1 - BORE_RANGE), high: constant * (1 + BORE_RANGE) };
  if (inside === 'constant' || taper_half_angle_deg === 0 || shank_diameter_um <= rim_um) return bored;
  const outerSlope = 2 * Math.tan(taper_half_angle_deg * DEG);
  const taperLength = Math.min(length, ((shank_diameter_um - rim_um) * UM) / outerSlope);
  const widening = (share: number) => {
    const wide = bore + outerSlope * (bore_um / rim_um) * share * taperLength;
    return (
      taperedResistance(viscosity, taperLength, bore, wide) +
      straightResistance(viscosity, length - taperLength, wide)
    );
  };
  const pulled = { value: widening(1), low: widening(2), high: Math.min(constant, widening(0.5)) };
  if (inside === 'widens') return pulled;
  return { value: Math.sqrt(pulled.value * constant), low: pulled.low, high: bored.high };
}

export interface Resistance {
  value: number;
  low: number;
  high: number;
}

/** Δp ∝ D⁻⁴: a bore known to 3 %. */
const BORE_RANGE = 0.12;
