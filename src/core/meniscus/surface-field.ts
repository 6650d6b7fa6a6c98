import { layerMatrices } from '../field/layer.ts';
import type { Panels } from '../field/panels.ts';
import { factorLu, type LuFactors, solveLu } from '../numeric/dense-lu.ts';
import type { Surroundings } from './surroundings.ts';

/** Field on the liquid for unit drive, and on request how a field that is given on the surface leaves it. */
export interface SurfaceField {
  /** Normal field e at the nodes of the meniscus. */
  readonly e: Float64Array;
  /**
   * Potential on the liquid (zero on the emitter) to the normal field it makes: -d phi / d n, node values to node
   * values, row by row. From a layer tau with S tau = f the field is tau / 2 - K' tau.
   */
  fieldOfPotential(): Float64Array;
}

/** Undefined where the matrix is singular: the shape crosses itself or the emitter. */
export function surfaceField(meniscus: Panels, around: Surroundings): SurfaceField | undefined {
  const n = meniscus.r.length;
  const { emitter, emitterFactors, plane } = around;
  const own = layerMatrices(meniscus, meniscus, plane, true);
  const schur = own.single;
  const e = new Float64Array(n);
  for (let i = 0; i < n; i++) e[i] = around.drive === 'voltage' ? 1 : meniscus.z[i]!;
  let back: Float64Array | undefined;
  let normalOfEmitter: Float64Array | undefined;
  if (emitter !== undefined && emitterFactors !== undefined) {
    const m = emitter.r.length;
    const onMeniscus = layerMatrices(meniscus, emitter, plane, true);
    back = solveLu(emitterFactors, layerMatrices(emitter, meniscus, plane, false).single, n);
    addProduct(-1, schur, onMeniscus.single, back, n, m, n);
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let k = 0; k < m; k++) sum += onMeniscus.single[i * m + k]! * around.emitterAlone[k]!;
      e[i] = e[i]! - sum;
    }
    normalOfEmitter = onMeniscus.normal;
  }
  const factors: LuFactors = factorLu(n, schur);
  if (factors.singular) return undefined;
  solveLu(factors, e);
  return {
    e,
    fieldOfPotential: () => {
      const layerToField = new Float64Array(n * n);
      for (let i = 0; i < n * n; i++) layerToField[i] = -own.normal![i]!;
      for (let i = 0; i < n; i++) layerToField[i * n + i] = layerToField[i * n + i]! + 0.5;
      if (back !== undefined && normalOfEmitter !== undefined) {
        const m = back.length / n;
        addProduct(1, layerToField, normalOfEmitter, back, n, m, n);
      }
      const inverse = new Float64Array(n * n);
      for (let i = 0; i < n; i++) inverse[i * n + i] = 1;
      solveLu(factors, inverse, n);
      const out = new Float64Array(n * n);
      addProduct(1, out, layerToField, inverse, n, n, n);
      return out;
    },
  };
}

/** a += sign b c with b of n x m and c of m x p, all row by row. */
export function addProduct(
  sign: 1 | -1,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
  m: number,
  p: number,
): void {
  for (let i = 0; i < n; i++)
    for (let k = 0; k < m; k++) {
      const f = sign * b[i * m + k]!;
      if (f === 0) continue;
      const rowA = i * p;
      const rowC = k * p;
      for (let j = 0; j < p; j++) a[rowA + j] = a[rowA + j]! + f * c[rowC + j]!;
    }
}
