import { factorLu, solveLu } from '../numeric/dense-lu.ts';
import { layerMatrices } from './layer.ts';
import type { Panels } from './panels.ts';
import { referencePanel } from './reference-panel.ts';

export interface ConductorField {
  /** Charge density in units of eps0: the field along the outward normal, at the nodes. */
  readonly sigma: Float64Array;
  /** Field at the start of the profile, its apex on the axis. */
  readonly apexField: number;
  /** Total charge in units of eps0, for unit potential the capacitance over eps0; a sphere has 4 pi R. */
  readonly charge: number;
}

/**
 * Field on a conductor whose own charge must give `potential(r, z)` on its surface: 1 for a body at unit potential,
 * z for a body at zero in a uniform field of strength 1 along +z. A plane at z = `plane` is held at zero.
 * Undefined where the panels coincide and the matrix is singular.
 */
export function solveField(
  panels: Panels,
  plane: number | undefined,
  potential: (r: number, z: number) => number = () => 1,
): ConductorField | undefined {
  const n = panels.r.length;
  const lu = factorLu(n, layerMatrices(panels, panels, plane, false).single);
  if (lu.singular) return undefined;
  const sigma = new Float64Array(n);
  for (let i = 0; i < n; i++) sigma[i] = potential(panels.r[i]!, panels.z[i]!);
  solveLu(lu, sigma);
  const { atStart, w } = referencePanel(panels.order);
  let apexField = 0;
  for (let k = 0; k < panels.order; k++) apexField += atStart[k]! * sigma[k]!;
  let charge = 0;
  for (let i = 0; i < n; i++)
    charge += 2 * Math.PI * panels.r[i]! * panels.speed[i]! * w[i % panels.order]! * sigma[i]!;
  return { sigma, apexField, charge };
}
