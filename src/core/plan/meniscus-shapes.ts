/**
 * Outlines of the solved meniscus for drawing: at any voltage up to the turning point by interpolation between solved members
 * of the family, and above it a composed picture: the last member past the turn up to where its surface stands at the
 * Taylor angle, then a straight cone into the jet. No static shape exists above the turn, so this is never called solved.
 */
import { VACUUM_PERMITTIVITY } from '../constants.ts';
import { DEG, UM } from '../units.ts';
import { TAYLOR_HALF_ANGLE_DEG, type TipOnset } from '../window/index.ts';

export interface MeniscusShapes {
  radius_um: number;
  /** Solved members, voltage ascending, up to and with the turning point. */
  rising: { tip_V: number; r_um: number[]; z_um: number[] }[];
  /** A member past the turn, the base of the composed picture. */
  past: { r_um: number[]; z_um: number[] };
  onset_V: number;
}

export interface Outline {
  /** From the apex to the contact line. */
  r_um: number[];
  z_um: number[];
  composed: boolean;
}

export function meniscusShapes(
  { solved, radius }: TipOnset,
  surfaceTension: number,
): MeniscusShapes | undefined {
  if (solved.kind !== 'onset') return undefined;
  const um = radius / UM;
  const volts = Math.sqrt((surfaceTension * radius) / VACUUM_PERMITTIVITY);
  const scaled = (lengths: readonly number[]) => lengths.map((length) => length * um);
  const below = solved.shapes.filter((shape) => shape.H < solved.apexHeight);
  const rising = [...below, solved.onsetShape].map(({ V, r, z }) => ({
    tip_V: V * volts,
    r_um: scaled(r),
    z_um: scaled(z),
  }));
  const last = solved.shapes.at(-1)!;
  return {
    radius_um: um,
    rising,
    past: { r_um: scaled(last.r), z_um: scaled(last.z) },
    onset_V: solved.V_star * volts,
  };
}

/** The outline at a tip voltage; `onset_V` may be another liquid's, since the shapes depend on V/V_on alone. */
export function outlineAt(
  shapes: MeniscusShapes,
  tip_V: number,
  onset_V: number,
  jetRadius_um: number,
): Outline {
  const V = (tip_V / onset_V) * shapes.onset_V;
  const { rising } = shapes;
  if (V > shapes.onset_V) return { ...coned(shapes.past, jetRadius_um), composed: true };
  const above = rising.findIndex((shape) => shape.tip_V >= V);
  const high = rising[above === -1 ? rising.length - 1 : above]!;
  const low = rising[Math.max(0, above - 1)]!;
  // Near the turn the voltage hardly moves while the apex rises: the share follows the square root that a fold has.
  const span = high.tip_V - low.tip_V;
  const linear = span > 0 ? Math.min(1, Math.max(0, (V - low.tip_V) / span)) : 1;
  const share = high === rising.at(-1) ? 1 - Math.sqrt(1 - linear) : linear;
  const mixed = (a: readonly number[], b: readonly number[]) =>
    b.map((v, k) => (a[k] ?? v) + (v - (a[k] ?? v)) * share);
  return { r_um: mixed(low.r_um, high.r_um), z_um: mixed(low.z_um, high.z_um), composed: false };
}

function coned(
  { r_um, z_um }: MeniscusShapes['past'],
  jetRadius_um: number,
): { r_um: number[]; z_um: number[] } {
  const slope = Math.tan(TAYLOR_HALF_ANGLE_DEG * DEG);
  // From the contact line inward: the first place where the surface is as steep as the cone, else the steepest there is.
  let at = r_um.length - 1;
  for (let k = r_um.length - 1; k > 0; k--) {
    const steep = (z_um[k - 1]! - z_um[k]!) * slope >= r_um[k]! - r_um[k - 1]!;
    if (steep) {
      at = k;
      break;
    }
  }
  const from = { r: r_um[at]!, z: z_um[at]! };
  const jet = Math.min(jetRadius_um, from.r);
  const tip = from.z + (from.r - jet) / slope;
  return { r_um: [jet, ...r_um.slice(at)], z_um: [tip, ...z_um.slice(at)] };
}
