import { gradedBreaks } from './graded-breaks.ts';
import { joinPanels, type Panels, panelsOnCurve, panelsOnLine } from './panels.ts';

/** Ellipsoid of revolution centred on the axis at `z`, from its upper pole to its lower one; equal axes: a sphere. */
export interface SpheroidProfile {
  semiAxis: number;
  equatorialRadius: number;
  z: number;
  order: number;
  /** Break points in the angle from the upper pole, 0 to pi. */
  breaks: readonly number[];
}

export function spheroidPanels(profile: SpheroidProfile): Panels {
  const { semiAxis: c, equatorialRadius: a, z, order, breaks } = profile;
  return panelsOnCurve(breaks, order, (t) => ({
    r: a * Math.sin(t),
    z: z + c * Math.cos(t),
    dr: a * Math.cos(t),
    dz: -c * Math.sin(t),
  }));
}

export function spherePanels(radius: number, z: number, order: number, count: number): Panels {
  const breaks = Array.from({ length: count + 1 }, (_, j) => (Math.PI * j) / count);
  return spheroidPanels({ semiAxis: radius, equatorialRadius: radius, z, order, breaks });
}

/** Hyperboloid whose apex at z = 0 faces a plane at z = `distance`; the body ends `lengthBehind` below its apex. */
export interface HyperboloidProfile {
  tipRadius: number;
  distance: number;
  lengthBehind: number;
  order: number;
  /** First panel in tip radii, and the growth from panel to panel; 0.5 and 1.8 give 1e-6 at order 6. */
  firstPanel: number;
  ratio: number;
}

/** Foci at a distance c from the plane: r = c sqrt(1 - eta^2) sinh(u), height above the plane c eta cosh(u). */
export function hyperboloidPanels(profile: HyperboloidProfile): Panels {
  const { tipRadius, distance, lengthBehind, order, firstPanel, ratio } = profile;
  const eta = 1 / Math.sqrt(1 + tipRadius / distance);
  const c = distance / eta;
  const s = c * Math.sqrt(1 - eta * eta);
  const end = Math.acosh(1 + lengthBehind / distance);
  // Near the apex the length is s u, later the radius of the body grows as exp(u): steps in u are bounded by ln(ratio).
  const breaks = gradedBreaks(end, {
    first: (firstPanel * tipRadius) / s,
    last: Math.log(ratio),
    ratio,
    largest: Math.log(ratio),
  });
  const side = panelsOnCurve(breaks, order, (u) => ({
    r: s * Math.sinh(u),
    z: distance - distance * Math.cosh(u),
    dr: s * Math.cosh(u),
    dz: -distance * Math.sinh(u),
  }));
  const radius = s * Math.sinh(end);
  const cap = gradedBreaks(radius, { first: radius / 10, last: radius / 2, ratio: 2.5 });
  return joinPanels([side, panelsOnLine([radius, -lengthBehind], [0, -lengthBehind], cap, order)]);
}
