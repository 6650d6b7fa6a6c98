/**
 * The meniscus of the rehearsed bench as outlines for drawing. Up to the onset the solver's family, scaled to where the contact
 * line sits; above it no static shape exists and the picture is composed (core/plan). A pulsation runs along the solved family
 * up to the turn, ejects (composed) and recoils: its shape in time is composed, slowed down, its true rate is told beside it.
 * A hanging drop is drawn as a ball on the tip: composed. One scale for all.
 */
import { type MeniscusShapes, outlineAt } from '../../core/plan/index.ts';
import { UM } from '../../core/units.ts';
import type { BenchState } from './bench-state.ts';

export interface MeniscusPicture {
  /** 'solved' is the solver's; 'empty': no liquid at the face. */
  kind: 'solved' | 'composed' | 'drop' | 'empty';
  /** From the apex to the contact line [µm]. */
  r_um: number[];
  z_um: number[];
  /** Angle of each jet against the axis [°]; empty where none leaves. */
  jets_deg: number[];
  /** Radius of the hanging drop [µm]. */
  drop_um: number;
  /** True jet diameter [µm]. */
  jet_um: number;
}

/** Shares of a drawn cycle at which the ejection begins and ends. */
const EJECTS = { from: 0.68, to: 0.86 };
/** Lowest point of the cycle, V/V_on. */
const CYCLE_FROM = 0.72;
/** Angle between neighbouring jets [°]. Judgement. */
const BETWEEN_JETS_DEG = 24;

/** `phase` 0..1 is the place in the slowed cycle. */
export function meniscusPicture(
  state: BenchState,
  shapes: MeniscusShapes | undefined,
  phase: number,
): MeniscusPicture {
  const picture: MeniscusPicture = {
    kind: 'empty',
    r_um: [],
    z_um: [],
    jets_deg: [],
    drop_um: 0,
    jet_um: state.jet / UM,
  };
  if (shapes === undefined || state.gas) return picture;
  const scale = state.contact / UM / shapes.radius_um;
  const at = (ratio: number): MeniscusPicture => {
    const outline = outlineAt(shapes, ratio * shapes.onset_V, shapes.onset_V, picture.jet_um / 2 / scale);
    return {
      ...picture,
      kind: outline.composed ? 'composed' : 'solved',
      r_um: outline.r_um.map((r) => r * scale),
      z_um: outline.z_um.map((z) => z * scale),
    };
  };
  const { regime, ratio } = state;
  if (regime === 'no spray') return state.flow_nL_min > 0 || ratio < 1 ? at(Math.min(1, ratio)) : picture;
  if (regime === 'dripping') {
    const drop_um = state.drop / UM;
    if (drop_um < DROP_DRAWN * (state.contact / UM)) return at(Math.min(1, ratio));
    return { ...picture, kind: 'drop', drop_um };
  }
  if (regime === 'arc') return at(1);
  const lean = state.tilt_deg;
  if (state.jets > 0) {
    const middle = (state.jets - 1) / 2;
    const jets_deg = Array.from({ length: state.jets }, (_, k) => lean + (k - middle) * BETWEEN_JETS_DEG);
    return { ...at(ABOVE), jets_deg };
  }
  if (regime === 'unsteady')
    return phase < 0.5 ? { ...at(ABOVE), jets_deg: [lean] } : at(cycle(2 * phase - 1));
  const ejects = phase >= EJECTS.from && phase < EJECTS.to;
  return ejects ? { ...at(ABOVE), jets_deg: [lean] } : at(cycle(phase));
}

/** V/V_on of the family's member that is shown: up to the turn before the ejection, quickly down after it. */
function cycle(phase: number): number {
  if (phase < EJECTS.from) return CYCLE_FROM + (1 - CYCLE_FROM) * (phase / EJECTS.from) ** 0.7;
  const t = Math.min(1, Math.max(0, (phase - EJECTS.to) / (1 - EJECTS.to)));
  return 1 - (1 - CYCLE_FROM) * t;
}

/** Any ratio above the turn composes. */
const ABOVE = 1.1;
/** A drop smaller than this many contact radii is still the meniscus. */
const DROP_DRAWN = 1.2;
