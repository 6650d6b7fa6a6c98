/** Factors of a dense square matrix, rows permuted: `L` below the diagonal (unit), `U` on and above it, row by row. */
export interface LuFactors {
  readonly n: number;
  readonly a: Float64Array;
  readonly pivot: Int32Array;
  /** True where a pivot is zero or not finite; solutions are then meaningless. */
  readonly singular: boolean;
}

/** Factors `a` (n x n, row by row) in place with partial pivoting. */
export function factorLu(n: number, a: Float64Array): LuFactors {
  const pivot = new Int32Array(n);
  let singular = false;
  for (let k = 0; k < n; k++) {
    let best = k;
    let size = Math.abs(a[k * n + k]!);
    for (let i = k + 1; i < n; i++) {
      const candidate = Math.abs(a[i * n + k]!);
      if (candidate > size) {
        size = candidate;
        best = i;
      }
    }
    pivot[k] = best;
    if (!(size > 0) || !Number.isFinite(size)) {
      singular = true;
      continue;
    }
    if (best !== k) swapRows(a, n, k, best);
    const rowK = k * n;
    const inverse = 1 / a[rowK + k]!;
    for (let i = k + 1; i < n; i++) {
      const rowI = i * n;
      const f = a[rowI + k]! * inverse;
      a[rowI + k] = f;
      if (f === 0) continue;
      for (let j = k + 1; j < n; j++) a[rowI + j] = a[rowI + j]! - f * a[rowK + j]!;
    }
  }
  return { n, a, pivot, singular };
}

/** Solves A X = B in place; `b` is n x columns, row by row. */
export function solveLu(lu: LuFactors, b: Float64Array, columns = 1): Float64Array {
  const { n, a, pivot } = lu;
  for (let k = 0; k < n; k++) if (pivot[k] !== k) swapRows(b, columns, k, pivot[k]!);
  for (let i = 1; i < n; i++) subtractRows(a, i * n, b, columns, i, 0, i);
  for (let i = n - 1; i >= 0; i--) {
    const rowI = i * columns;
    subtractRows(a, i * n, b, columns, i, i + 1, n);
    const inverse = 1 / a[i * n + i]!;
    for (let j = 0; j < columns; j++) b[rowI + j] = b[rowI + j]! * inverse;
  }
  return b;
}

/** Row i of b minus the rows `from` to `to` of b times the entries of a's row; four at a time, which halves the traffic. */
function subtractRows(
  a: Float64Array,
  rowA: number,
  b: Float64Array,
  columns: number,
  i: number,
  from: number,
  to: number,
): void {
  const rowI = i * columns;
  let k = from;
  for (; k + 3 < to; k += 4) {
    const [f0, f1, f2, f3] = [a[rowA + k]!, a[rowA + k + 1]!, a[rowA + k + 2]!, a[rowA + k + 3]!];
    const r0 = k * columns;
    const r1 = r0 + columns;
    const r2 = r1 + columns;
    const r3 = r2 + columns;
    for (let j = 0; j < columns; j++)
      b[rowI + j] = b[rowI + j]! - (f0 * b[r0 + j]! + f1 * b[r1 + j]! + f2 * b[r2 + j]! + f3 * b[r3 + j]!);
  }
  for (; k < to; k++) {
    const f = a[rowA + k]!;
    const rowK = k * columns;
    for (let j = 0; j < columns; j++) b[rowI + j] = b[rowI + j]! - f * b[rowK + j]!;
  }
}

function swapRows(a: Float64Array, width: number, i: number, k: number): void {
  for (let j = 0; j < width; j++) {
    const keep = a[i * width + j]!;
    a[i * width + j] = a[k * width + j]!;
    a[k * width + j] = keep;
  }
}
