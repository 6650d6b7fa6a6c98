import { type Control, type EquilibriumTask, type ShapeState, unknowns } from './equilibrium.ts';
import type { Member } from './member.ts';
import { dot } from './mesh.ts';

export type PaceKind = 'height' | 'aspect' | 'path';

/** How the next member is asked for, and the last few members measured by the same quantity. */
export interface Pace {
  readonly control: (at: number) => Control;
  readonly members: readonly Member[];
}

/** Members that are kept in view: enough for a cubic. */
const IN_VIEW = 4;

/**
 * Height and aspect measure themselves. A path is measured along its own last direction, a fixed weighted sum of the
 * unknowns, so that the drive is a smooth function of the measure also where the height folds.
 */
export function paceOf(
  task: { readonly followBy: PaceKind; readonly base: Omit<EquilibriumTask, 'control'> },
  members: readonly Member[],
): Pace {
  const view = members.slice(-IN_VIEW);
  const { followBy } = task;
  if (followBy !== 'path') return { control: (value) => ({ kind: followBy, value }), members: view };
  if (members.length === 1)
    return { control: (value) => ({ kind: 'voltage', value }), members: [{ ...members[0]!, at: 0 }] };
  const weights = direction(task.base, view.at(-Math.min(3, view.length))!.state, view.at(-1)!.state, view);
  return {
    control: (value) => ({ kind: 'along', weights, value }),
    members: view.map((m) => ({ ...m, at: dot(weights, unknowns(m.state)) })),
  };
}

function direction(
  base: Omit<EquilibriumTask, 'control'>,
  from: ShapeState,
  to: ShapeState,
  view: readonly Member[],
): Float64Array {
  const n = base.mesh.nodes;
  // The pull counts as the pressure U e^2 that it makes: by the field of the newest member.
  const { e } = view.at(-1)!;
  let pressure = 0;
  for (let i = 0; i < n; i++) pressure += base.mesh.whole[i]! * e[i]! * e[i]!;
  const a = unknowns(from);
  const weights = unknowns(to);
  let length = 0;
  for (let i = 0; i < n + 3; i++) {
    const change = weights[i]! - a[i]!;
    const scale = i < n ? base.mesh.whole[i]! : i === n + 1 ? pressure * pressure : 1;
    weights[i] = scale * change;
    length += scale * change * change;
  }
  const norm = Math.sqrt(length);
  return weights.map((w) => w / norm);
}
