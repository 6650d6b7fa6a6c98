import { apexCurvature, edgeAngle, outlineOf, voltageOf, volumeOf } from './equilibrium.ts';
import { type Family, type FamilyTask, solveMember } from './family.ts';
import type { Member } from './member.ts';
import { endValue, type MeniscusMesh } from './mesh.ts';
import type { MeniscusOnset, MeniscusShape } from './result.ts';
import type { Surroundings } from './surroundings.ts';

export function describeOnset(
  task: FamilyTask,
  family: Family & { kind: 'turn' },
  mesh: MeniscusMesh,
  around: Surroundings,
  shapesAt: readonly number[],
): MeniscusOnset {
  const { turn, members } = family;
  const state = turn.member.state;
  const V_star = Math.sqrt(2 * turn.pull);
  const apexFieldFactor = endValue(mesh, turn.member.e, 0);
  const onset = shapeOf(mesh, turn.member);
  const falling = members.findIndex((m, k) => k > 0 && m.state.pull < members[k - 1]!.state.pull);
  // The last member before the first fall may lie on either side of the maximum: the maximum itself stands in for it.
  const rising = [...members.slice(0, Math.max(1, falling - 1)), turn.member];
  const asked: Member[] = [];
  for (const V of shapesAt) {
    const member = V <= V_star ? memberAtVoltage(task, rising, V) : undefined;
    if (member !== undefined) asked.push(member);
  }
  const shapes = members.map((m) => shapeOf(mesh, m));
  return {
    kind: 'onset',
    V_star,
    apexHeight: onset.H,
    rises: turn.at < task.startAt ? 'edge' : 'apex',
    apexField: apexFieldFactor * V_star,
    apexFieldFactor,
    apexCurvature: onset.kappa,
    pressure: state.pressure,
    volume: volumeOf(mesh, state),
    edgeAngle: edgeAngle(mesh, state),
    halfAngle: Math.PI / 2 - state.psi.reduce((a, b) => Math.max(a, b), edgeAngle(mesh, state)),
    curve: shapes.map(({ H, V, kappa }) => ({ H, V, kappa })),
    shapes,
    onsetShape: onset,
    atVoltage: asked.map((m) => shapeOf(mesh, m)),
    cost: {
      meniscusNodes: mesh.nodes,
      emitterNodes: around.emitter?.r.length ?? 0,
      shapes: members.length + asked.length,
      updates: [...members, turn.member, ...asked].reduce((sum, m) => sum + m.updates, 0),
    },
  };
}

/** Voltages nearer than this share of the greatest are taken as equal. */
const VOLTAGE_GOAL = 1e-5;
const MOST_SECANTS = 8;

/** A member of the rising branch at the voltage, by the quantity that stays regular up to the maximum. */
function memberAtVoltage(task: FamilyTask, rising: readonly Member[], V: number): Member | undefined {
  const goal = (V * V) / 2;
  const top = rising.at(-1)!;
  const found = rising.findIndex((m) => m.state.pull >= goal);
  const above = found < 0 ? rising.length - 1 : found;
  if (above === 0) return rising[0];
  let low = rising[above - 1]!;
  let high = rising[above]!;
  for (let k = 0; k < MOST_SECANTS; k++) {
    const nearest = goal - low.state.pull < high.state.pull - goal ? low : high;
    if (Math.abs(nearest.state.pull - goal) <= 2 * VOLTAGE_GOAL * top.state.pull) return nearest;
    const share = (goal - low.state.pull) / (high.state.pull - low.state.pull);
    // Near the maximum U is flat; a share kept off the ends brackets the goal from both sides.
    const kept = Math.min(Math.max(share, 0.05), 0.95);
    const member = solveMember(task, [low, high], low.at + kept * (high.at - low.at));
    if (typeof member === 'string') return undefined;
    if (member.state.pull < goal) low = member;
    else high = member;
  }
  return low;
}

function shapeOf(mesh: MeniscusMesh, member: Member): MeniscusShape {
  const { r, z, height, edgeRadius } = outlineOf(mesh, member.state.psi, member.state.arc);
  return {
    H: height,
    V: voltageOf(member.state),
    kappa: apexCurvature(mesh, member.state),
    r: [0, ...r, edgeRadius],
    z: [height, ...z, 0],
  };
}
