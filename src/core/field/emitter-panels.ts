import { gradedBreaks } from './graded-breaks.ts';
import { joinPanels, type Panels, panelsOnLine } from './panels.ts';

/**
 * Outside of an emitter in units of the contact-line radius; its rim face lies at z = 0 and it points along +z:
 * a flat face from r = 1 to `rimRadius`, a wall that widens at `halfAngle` up to `shankRadius`, a straight shank, and
 * a flat rear cap at `length` behind the face. A half angle of 0 is a straight cylinder of the rim's radius. A taper
 * that would be longer than the emitter ends with it.
 */
export interface EmitterProfile {
  rimRadius: number;
  /** [rad] */
  halfAngle: number;
  shankRadius: number;
  length: number;
}

export interface EmitterMesh {
  order: number;
  /** First panel at the contact line and at the outer edge. */
  edgePanel: number;
  ratio: number;
}

/** Panels on a rear edge or the bend to the shank start with this share of the local radius: they matter little. */
const REAR_SHARE = 0.15;

export function emitterPanels(profile: EmitterProfile, mesh: EmitterMesh): Panels {
  const { rimRadius: b, length } = profile;
  const { order, ratio } = mesh;
  const face = b - 1;
  const parts: Panels[] = [];
  const edge = face > 0 ? Math.min(mesh.edgePanel, face / 2) : mesh.edgePanel;
  if (face > 0) {
    const breaks = gradedBreaks(face, { first: edge, last: edge, ratio });
    parts.push(panelsOnLine([1, 0], [b, 0], breaks, order));
  }
  const slope = Math.tan(profile.halfAngle);
  const wanted = slope > 0 ? (profile.shankRadius - b) / slope : 0;
  const taper = Math.min(Math.max(wanted, 0), length);
  const shank = slope > 0 ? b + taper * slope : b;
  const rear = REAR_SHARE * shank;
  if (taper > 0) {
    const wall = taper / Math.cos(profile.halfAngle);
    const breaks = gradedBreaks(wall, { first: edge, last: rear, ratio });
    parts.push(panelsOnLine([b, 0], [shank, -taper], breaks, order));
  }
  if (taper < length) {
    const breaks = gradedBreaks(length - taper, { first: taper > 0 ? rear : edge, last: rear, ratio });
    parts.push(panelsOnLine([shank, -taper], [shank, -length], breaks, order));
  }
  const cap = gradedBreaks(shank, { first: rear, last: shank, ratio });
  parts.push(panelsOnLine([shank, -length], [0, -length], cap, order));
  return joinPanels(parts);
}
