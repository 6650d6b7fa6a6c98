/**
 * Where corona starts ahead of a Taylor cone in air: Townsend's ionisation integrated along the axis,
 * K = ∫ α dr from the apex to the slant length R/sin αT, α = 15 p exp(−365 p/E) [1/cm; Torr, V/cm; valid E/p 100 to 800],
 * E = 0.513 √(2 γ cot αT/(ε0 r)) (V/V_on). Inception at K = 9.2 (an avalanche of 10⁴; Mikropoulos and Zagkanas 2009, read).
 * The field beyond the onset is taken to rise with the voltage: judgement. An estimate; negative polarity is weakly known.
 * Worked numbers (computed): water, R 10 µm: K = 5.4; 50 µm: 9.7; γ 0.033, 10 µm: 3.5.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';
import { DEG } from '../units.ts';
import { TAYLOR_HALF_ANGLE_DEG } from './onset-closed.ts';

export const CORONA_INCEPTION = 9.2;
const PRESSURE_TORR = 760;
const AXIS_SHARE = 0.513;
const POINTS = 200;

/** γ [N/m] times (V/V_on)², contact radius [m]. */
export function ionisationIntegral(tension: number, radius: number): number {
  const angle = TAYLOR_HALF_ANGLE_DEG * DEG;
  const end = radius / Math.sin(angle);
  const scale = AXIS_SHARE * Math.sqrt((2 * tension) / (Math.tan(angle) * VACUUM_PERMITTIVITY));
  // In t = √r the integrand is smooth at the apex, where the field diverges and α saturates.
  let sum = 0;
  for (let k = 0; k < POINTS; k++) {
    const t = (k + 0.5) / POINTS;
    const field_V_cm = scale / (t * Math.sqrt(end)) / 100;
    sum += 2 * t * Math.exp((-365 * PRESSURE_TORR) / field_V_cm);
  }
  return ((15 * PRESSURE_TORR * sum) / POINTS) * end * 100;
}

/** γ (V/V_on)² at inception [N/m] for a contact line of this radius; Infinity where no field reaches it below `most`. */
export function inceptionTension(radius: number, most = 20): number {
  if (ionisationIntegral(most, radius) < CORONA_INCEPTION) return Number.POSITIVE_INFINITY;
  let low = 1e-4;
  let high = most;
  for (let k = 0; k < 40; k++) {
    const middle = Math.sqrt(low * high);
    if (ionisationIntegral(middle, radius) < CORONA_INCEPTION) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
}
