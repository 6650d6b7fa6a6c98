/**
 * Low readings that stand alone among readings foretold well: leave-one-out residuals of the physics fit far below their spread, with
 * no other low reading beside them. They are taken as events seen too late (a bubble before anything could be foretold) and weigh
 * little until a reading near them agrees. Never more than a few, so that a wrong mean is not saved by it.
 */

import { solveLower } from './cholesky.ts';
import { covarianceOf, type Datum, type Mode, project } from './fit.ts';
import { physicsMean } from './physics-mean.ts';

const SIGMAS = 4.5;
const DROP = 1;
const MOST_SHARE = 0.15;
const LEAST_READINGS = 8;
/** Neighbours: within these of ln(V/V_on), mm and ln distance together. */
const NEAR = { ratio: 0.06, lateral: 0.3, distance: 0.2 };

/** Indices into the mode's data. */
export function stragglers(mode: Mode): number[] {
  const { data, factor } = mode;
  const n = data.length;
  if (n < LEAST_READINGS) return [];
  const residual = data.map(({ place, y }) => y - physicsMean(mode.family.terms, mode.theta, place));
  const found: { i: number; z: number }[] = [];
  const unit = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    if (residual[i]! > -DROP) continue;
    unit.fill(0);
    unit[i] = 1;
    const column = solveLower(n, factor, unit);
    // C⁻¹ entries by the whitened unit vector: (C⁻¹)ii = |L⁻¹ eᵢ|², (C⁻¹ r)i = L⁻¹ eᵢ · L⁻¹ r.
    let [diagonal, along] = [0, 0];
    for (let k = 0; k < n; k++) {
      diagonal += column[k]! * column[k]!;
      along += column[k]! * mode.residual[k]!;
    }
    const left = along / diagonal;
    const seen = project(mode, data[i]!.place, data[i]!.epoch);
    const spread = Math.sqrt(1 / diagonal + Math.max(0, covarianceOf(mode, seen, seen)));
    const z = left / spread;
    if (z < -SIGMAS && left < -DROP && alone(data, residual, i)) found.push({ i, z });
  }
  if (found.length > Math.max(1, MOST_SHARE * n)) return [];
  return found.map(({ i }) => i);
}

/** No neighbour is as low: half of this reading's shortfall. */
function alone(data: readonly Datum[], residual: readonly number[], i: number): boolean {
  const a = data[i]!.place;
  return !data.some(({ place: b }, j) => {
    if (j === i || residual[j]! > residual[i]! / 2) return false;
    const c = (a.c - b.c) / NEAR.ratio;
    const r = Math.hypot(a.x - b.x, a.y - b.y) / NEAR.lateral;
    const z = (a.lnZ - b.lnZ) / NEAR.distance;
    return Math.hypot(c, r, z) <= 1;
  });
}
