/**
 * Dripping below the onset: the drop grows with the flow and falls at a radius between the contact line's (at the onset) and
 * that of a drop that falls by its weight, r_g³ = 0.6 · 3 a γ/(2 ρ g) (0.6 of the ideal drop; rule and shares: judgement).
 * A forming jet throws the hanging drop off.
 */
import { rayleighCharge } from '../../core/jet/index.ts';
import type { SingleCharge } from './current-maker.ts';
import type { BenchRegime } from './regime.ts';
import type { BenchTruth } from './truth.ts';

type Liquid = BenchTruth['liquid'];

export interface Dripper {
  /** Drops that leave in this tick. */
  tick(at: DripAt, dt: number): SingleCharge[];
  /** Radius of the drop that hangs [m]. */
  radius(): number;
}

export interface DripAt {
  regime: BenchRegime;
  ratio: number;
  contact: number;
  flow: number;
  liquid: Liquid;
}

const GRAVITY = 9.81;
const TATE_SHARE = 0.6;
/** Share of its Rayleigh charge that a drop takes along, at the onset and thrown off. */
const FALLING_SHARE = 0.5;
const THROWN_SHARE = 0.3;
/** Below this V/V_on a drop is not thrown off. */
const THROWN_FROM = 0.5;
/** In one tick. */
const MOST_DROPS = 50;

export function dripper(): Dripper {
  let hanging = 0;
  const radius = () => Math.cbrt((3 * hanging) / (4 * Math.PI));
  return {
    radius,
    tick({ regime, ratio, contact, flow, liquid }, dt) {
      const drops: SingleCharge[] = [];
      if (regime !== 'dripping') {
        if (ratio > THROWN_FROM && flow > 0) {
          if (radius() > contact) drops.push(dropCharge(THROWN_SHARE, radius(), liquid));
          hanging = 0;
        }
        return drops;
      }
      hanging += flow * dt;
      const x = Math.min(1, ratio);
      const heavy = Math.cbrt(
        (3 * TATE_SHARE * contact * liquid.surfaceTension) / (2 * liquid.density * GRAVITY),
      );
      const leaves = contact + Math.max(0, heavy - contact) * (1 - x * x);
      const volume = (4 / 3) * Math.PI * leaves ** 3;
      for (let k = 0; hanging >= volume && k < MOST_DROPS; k++) {
        hanging -= volume;
        drops.push(dropCharge(FALLING_SHARE * x, leaves, liquid));
      }
      hanging = Math.min(hanging, volume);
      return drops;
    },
  };
}

/** A drop leaves with a share of its Rayleigh charge over its own capillary time √(ρ r³/γ). */
export function dropCharge(share: number, radius: number, liquid: Liquid): SingleCharge {
  return {
    charge_C: share * rayleighCharge(liquid.surfaceTension, radius),
    length_s: Math.sqrt((liquid.density * radius ** 3) / liquid.surfaceTension),
  };
}
