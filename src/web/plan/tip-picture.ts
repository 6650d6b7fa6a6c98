/**
 * What the tip view may show and must say of it. Solved: the equilibrium at the chosen voltage. Composed: above the turning
 * point no static shape exists, so a cone and a jet are put together. Being solved: what is drawn belongs to earlier values,
 * at the chosen share of its onset, scaled to the new contact line, and is greyed. No equilibrium and a failed solver are
 * never confused: the first has no surface to draw, the second an unknown one.
 */
import { type MeniscusShapes, type Outline, outlineAt } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import { figure, given, withUnit } from '../words.ts';
import { drawnContact_um } from './tip-frame.ts';
import type { Standing } from './use-plan.ts';

export type Truth =
  | 'solved'
  | 'composed'
  | 'being solved'
  | 'last without faults'
  | 'no equilibrium'
  | 'solver failed'
  | 'contact line outside';

export type TipShape =
  | { kind: 'outline'; outline: Outline }
  | { kind: 'cone' }
  | { kind: 'cap' }
  | { kind: 'none' };

export interface TipPicture {
  truth: Truth;
  shape: TipShape;
  /** Width of the jet where one is drawn. */
  jet_nm: number | undefined;
  /** The few words inside the drawing. */
  label: string;
  /** Why it is so, for the caption. */
  reason: string;
  grey: boolean;
}

/** A set-up with its plan and its solved shapes. */
export interface Planned {
  setup: Setup;
  plan: Plan;
  shapes: MeniscusShapes | undefined;
}

export interface TipPictureInput {
  /** What is drawn now. */
  setup: Setup;
  /** The last plan, with the set-up it belongs to. */
  done: Planned;
  standing: Standing;
  /** Chosen tip voltage and the onset it is measured by [V]. */
  volts: number;
  onset_V: number;
  jet_nm: number;
}

const LABELS: Record<Truth, string> = {
  solved: 'meniscus solved',
  composed: 'composed, not solved',
  'being solved': 'being solved…',
  'last without faults': 'of the last faultless set-up',
  'no equilibrium': 'no equilibrium exists',
  'solver failed': 'solver failed; composed',
  'contact line outside': 'composed, not solved',
};

export function tipPicture({ setup, done, standing, volts, onset_V, jet_nm }: TipPictureInput): TipPicture {
  const { meniscus } = done.plan;
  const above = volts > onset_V;
  const pending = standing === 'computing' || standing === 'faulty';
  const outside = setup.emitter.wets === 'shank' || done.setup.emitter.wets === 'shank';
  const shape = ((): TipShape => {
    if (meniscus.kind === 'no equilibrium') return { kind: 'none' };
    if (done.shapes === undefined || outside) return { kind: above ? 'cone' : 'cap' };
    const outline = outlineAt(done.shapes, volts, onset_V, jet_nm / 2000);
    const share = drawnContact_um(setup.emitter) / drawnContact_um(done.setup.emitter);
    return { kind: 'outline', outline: pending ? scaled(outline, share) : outline };
  })();
  const truth = ((): Truth => {
    if (pending) return standing === 'faulty' ? 'last without faults' : 'being solved';
    if (meniscus.kind !== 'solved') return meniscus.kind;
    if (outside) return 'contact line outside';
    return above ? 'composed' : 'solved';
  })();
  const jets = shape.kind === 'cone' || (shape.kind === 'outline' && shape.outline.composed);
  return {
    truth,
    shape,
    jet_nm: jets ? jet_nm : undefined,
    label: LABELS[truth],
    reason: reasonOf(truth, done.plan, onset_V, above),
    grey: pending,
  };
}

function reasonOf(truth: Truth, { meniscus, below_minimum }: Plan, onset_V: number, above: boolean): string {
  const onset = withUnit(figure(onset_V), 'V');
  const flow =
    above && below_minimum.verdict === 'below'
      ? ' At this flow no steady jet is expected at any voltage.'
      : '';
  const why = meniscus.kind === 'solved' ? '' : meniscus.reason;
  switch (truth) {
    case 'solved':
      return 'The meniscus is the solved equilibrium.';
    case 'composed':
      return `The hatched liquid is composed, not solved: above the turning point at ${onset} no static shape exists.${flow}`;
    case 'being solved':
      return 'Being solved…: the grey outline belongs to the values before, at the same share of their onset.';
    case 'last without faults':
      return 'The grey outline belongs to the last set-up without faults; nothing is being solved until they are mended.';
    case 'no equilibrium':
      return `No equilibrium exists, so no surface is drawn: ${why}.`;
    case 'solver failed':
      return `The solver failed here (${why}), which does not say that no shape exists. The hatched liquid is composed, its onset from the closed formula.`;
    case 'contact line outside':
      return `The contact line lies on the flooded shank, outside this view: film and ${above ? 'cone' : 'cap'} are composed, not solved.${flow}`;
  }
}

export function tipWords(setup: Setup, picture: TipPicture | undefined): string {
  const { emitter } = setup;
  const body = `The tip to scale: bore ${given(emitter.bore_um)} µm, rim ${given(emitter.rim_um)} µm, the liquid wets up to the ${emitter.wets}.`;
  if (picture === undefined) return `${body} Being solved.`;
  const apex =
    picture.truth === 'solved' && picture.shape.kind === 'outline'
      ? ` Its apex stands ${figure(picture.shape.outline.z_um[0])} µm high.`
      : '';
  const jet = picture.jet_nm === undefined ? '' : ` A jet of ${figure(picture.jet_nm)} nm.`;
  return `${body} ${picture.reason}${apex}${jet}`;
}

function scaled({ r_um, z_um, composed }: Outline, share: number): Outline {
  const by = (lengths: readonly number[]) => lengths.map((length) => length * share);
  return { r_um: by(r_um), z_um: by(z_um), composed };
}
