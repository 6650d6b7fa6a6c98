/** Lower Cholesky factor of a small symmetric positive matrix, row by row, and its triangular solves. Textbook. */

/** Added to a diagonal that rounding has carried to zero or below, relative to the largest entry. */
const LEAST_PIVOT = 1e-12;

/** Factors in place; the upper triangle is left as it was. */
export function cholesky(n: number, a: Float64Array): Float64Array {
  let largest = 0;
  for (let i = 0; i < n; i++) largest = Math.max(largest, a[i * n + i]!);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = i === j ? Math.sqrt(Math.max(sum, LEAST_PIVOT * largest)) : sum / a[j * n + j]!;
    }
  return a;
}

/** b ← L⁻¹ b. */
export function solveLower(n: number, l: Float64Array, b: Float64Array): Float64Array {
  for (let i = 0; i < n; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= l[i * n + k]! * b[k]!;
    b[i] = sum / l[i * n + i]!;
  }
  return b;
}

/** b ← L⁻ᵀ b. */
export function solveUpper(n: number, l: Float64Array, b: Float64Array): Float64Array {
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * b[k]!;
    b[i] = sum / l[i * n + i]!;
  }
  return b;
}

/** ln of the determinant of the factored matrix. */
export function logDeterminant(n: number, l: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.log(l[i * n + i]!);
  return 2 * sum;
}
