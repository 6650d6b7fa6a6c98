/** The solved meniscus of a set-up in its own liquid: the curve to its turning point and the outline there. */

import { VACUUM_PERMITTIVITY } from '../constants.ts';
import type { Setup } from '../setup.ts';
import { UM } from '../units.ts';
import type { Condition } from './condition.ts';
import { type HeldPressure, MOST_BORNE, shareWords, timesWords } from './held-pressure.ts';

export type PlanMeniscus =
  | {
      kind: 'solved';
      contact: 'inner edge' | 'outer edge' | 'flooded shank';
      hold: 'pressure';
      /** Onset in units of √(γ a/ε0), without feed pressure. */
      V_star: number;
      onset_V: number;
      onset_apex_height_um: number;
      onset_apex_field_V_m: number;
      /** Smallest half-angle of the surface at the onset. */
      half_angle_deg: number;
      /** From no voltage through the turning point. */
      curve: { apex_height_um: number; tip_V: number }[];
      onset_outline: { r_um: number[]; z_um: number[] };
      /** The closed formula beside it, as a cross-check. */
      closed_form_V: number;
      note: string;
    }
  | { kind: 'no equilibrium' | 'solver failed'; reason: string; closed_form_V: number };

export function meniscusOf(
  setup: Setup,
  { tip, jetLiquid }: Condition,
  closed_form_V: number,
  held: HeldPressure | undefined,
): PlanMeniscus {
  if (held?.verdict === 'no equilibrium')
    return { kind: 'no equilibrium', reason: bulgingWords(held), closed_form_V };
  const { solved, radius, geometry } = tip;
  if (solved.kind !== 'onset') return { kind: solved.kind, reason: solved.reason, closed_form_V };
  const unit = Math.sqrt((jetLiquid.surfaceTension * radius) / VACUUM_PERMITTIVITY);
  const field = Math.sqrt(jetLiquid.surfaceTension / (radius * VACUUM_PERMITTIVITY));
  const um = radius / UM;
  return {
    kind: 'solved',
    contact: geometry.place,
    hold: 'pressure',
    V_star: solved.V_star,
    onset_V: solved.V_star * unit,
    onset_apex_height_um: solved.apexHeight * um,
    onset_apex_field_V_m: solved.apexField * field,
    half_angle_deg: (solved.halfAngle * 180) / Math.PI,
    curve: solved.curve.map(({ H, V }) => ({ apex_height_um: H * um, tip_V: V * unit })),
    onset_outline: {
      r_um: solved.onsetShape.r.map((r) => r * um),
      z_um: solved.onsetShape.z.map((z) => z * um),
    },
    closed_form_V,
    note: `contact line held on the ${geometry.place}, no feed pressure, a plane at ${setup.inlet.distance_mm} mm; the turn of the voltage is taken as the loss of stability`,
  };
}

function bulgingWords({ over_capillary, no_equilibrium_probability }: HeldPressure): string {
  return `the feed's pressure is ${timesWords(over_capillary)} and a meniscus bears ${MOST_BORNE}: the liquid bulges out and drips without field, in ${shareWords(no_equilibrium_probability)}`;
}
