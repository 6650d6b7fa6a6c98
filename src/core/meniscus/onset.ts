import { type EmitterProfile, emitterPanels } from '../field/emitter-panels.ts';
import { gradedBreaks } from '../field/graded-breaks.ts';
import { capHeight, checkInput } from './check-input.ts';
import { describeOnset } from './describe-onset.ts';
import { cap, type Hold, voltageOf } from './equilibrium.ts';
import { type FamilyTask, followFamily } from './family.ts';
import type { MeniscusInput, MeshChoice } from './input.ts';
import { meniscusMesh } from './mesh.ts';
import type { MeniscusResult } from './result.ts';
import { emitterAtVoltage, plateInField, type Surroundings } from './surroundings.ts';

interface MeshRecipe {
  order: number;
  ratio: number;
  apexPanel: number;
  largestPanel: number;
  edgePanel: number;
}

const RECIPES: Record<MeshChoice, MeshRecipe> = {
  usual: { order: 4, ratio: 2.8, apexPanel: 0.28, largestPanel: 0.34, edgePanel: 0.06 },
  fine: { order: 6, ratio: 2.2, apexPanel: 0.2, largestPanel: 0.22, edgePanel: 0.02 },
};

/** At this feed pressure the cap without voltage is a hemisphere: the largest pressure a circle can hold. */
const LARGEST_PRESSURE = 2;
const FIRST_STEP = 0.04;
const LARGEST_STEP = 0.09;
/** A held volume sharpens faster: its maximum comes at apex curvatures of 2 to 4, against 0.2 to 1.6 at a held pressure. */
const VOLUME_STEP = 0.05;
/** A large first step may land on another family; the first shapes of a held volume are found close together. */
const VOLUME_FIRST_STEP = 0.008;
const VOLUME_APEX_SHARE = 0.4;
/** A small held volume on a sharp edge sinks at the apex and steepens at the edge: its family runs downward. */
const SMALL_PULL = 0.5;
const BEYOND_TURN = 2;

export function meniscusOnset(input: MeniscusInput): MeniscusResult {
  checkInput(input);
  return answer(input, (choice) => {
    const recipe = RECIPES[choice];
    const profile: EmitterProfile = {
      rimRadius: input.rimRadius,
      halfAngle: input.taperHalfAngle,
      shankRadius: input.shankRadius,
      length: input.length,
    };
    const around = emitterAtVoltage(emitterPanels(profile, recipe), input.distance);
    if (around === undefined)
      return { kind: 'solver failed', reason: 'the emitter matrix is singular', at: { height: 0, V: 0 } };
    return onsetIn(around, input, choice);
  });
}

export interface PlateInput {
  hold: Hold;
  shapesAt?: readonly number[];
  beyondTurn?: number;
  mesh?: MeshChoice;
}

/** The same for a drop pinned on the plate itself in a uniform field; `V` is then the field in sqrt(gamma / (a eps0)). */
export function plateOnset(input: PlateInput): MeniscusResult {
  return answer(input, (choice) => onsetIn(plateInField(), { rimRadius: 2, ...input }, choice));
}

/** Held volumes that sink at the apex pull steep and sharp at the edge: the usual mesh leaves them to the fine one. */
function answer(input: PlateInput, solve: (choice: MeshChoice) => MeniscusResult): MeniscusResult {
  const impossible = withoutEquilibrium(input.hold);
  if (impossible !== undefined) return { kind: 'no equilibrium', reason: impossible };
  const choice = input.mesh ?? 'usual';
  const first = solve(choice);
  if (first.kind !== 'solver failed' || choice === 'fine' || input.hold.kind === 'pressure') return first;
  return solve('fine');
}

/**
 * Balance of forces along the axis over the disc of the contact line: pi P + pull = 2 pi sin(angle at the line), and
 * the pull is positive. So no shape exists at P >= 2, at any voltage; at P <= -2 none exists without voltage, and the
 * meniscus has left the rim into the bore before the voltage is raised.
 */
function withoutEquilibrium(hold: Hold): string | undefined {
  if (hold.kind === 'volume') return undefined;
  if (hold.pressure >= LARGEST_PRESSURE)
    return 'the feed pressure is at or above what surface tension holds on this contact line; liquid runs out at any voltage';
  if (hold.pressure <= -LARGEST_PRESSURE)
    return 'the suction is at or above what surface tension holds on this contact line; the meniscus draws back into the bore before any voltage';
  return undefined;
}

function onsetIn(
  around: Surroundings,
  input: PlateInput & { rimRadius: number },
  choice: MeshChoice,
): MeniscusResult {
  const recipe = RECIPES[choice];
  const face = input.rimRadius - 1;
  const edge = face > 0 ? Math.min(recipe.edgePanel, Math.max(face, recipe.edgePanel / 4)) : recipe.edgePanel;
  const volumeHeld = input.hold.kind === 'volume';
  const breaks = gradedBreaks(1, {
    first: recipe.apexPanel * (volumeHeld ? VOLUME_APEX_SHARE : 1),
    last: edge,
    ratio: recipe.ratio,
    largest: recipe.largestPanel,
  });
  const mesh = meniscusMesh(breaks, recipe.order);
  const height =
    input.hold.kind === 'volume'
      ? capHeight(input.hold.volume)
      : Math.tan(Math.asin(input.hold.pressure / 2) / 2);
  const task: FamilyTask = {
    base: { mesh, around, edge: 'pinned', hold: input.hold },
    followBy: 'height',
    start: cap(mesh, height),
    startAt: height,
    firstGuess: (at) => cap(mesh, at),
    // Near the largest pressure the whole family lies between the cap and a hemisphere.
    firstStep: input.hold.kind === 'pressure' ? Math.min(FIRST_STEP, 0.15 * (1 - height)) : VOLUME_FIRST_STEP,
    largestStep: volumeHeld ? VOLUME_STEP : LARGEST_STEP,
    beyondTurn: input.beyondTurn ?? BEYOND_TURN,
  };
  let family = followFamily(task);
  if (family.kind === 'failed' && family.members.length === 1 && volumeHeld && choice === 'fine')
    family = followFamily({
      ...task,
      // The cap itself with a little pull: a lower cap would hold another volume.
      firstGuess: () => ({ ...task.start, pull: SMALL_PULL }),
      firstStep: -task.firstStep,
    });
  if (family.kind === 'failed') {
    const last = family.members.at(-1)!;
    return {
      kind: 'solver failed',
      reason: family.reason,
      at: { height: last.at, V: voltageOf(last.state) },
    };
  }
  return describeOnset(task, family, mesh, around, input.shapesAt ?? []);
}
