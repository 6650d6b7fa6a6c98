export interface Quadrature {
  /** Points in (0, 1), ascending. */
  readonly x: Float64Array;
  /** Weights; they sum to 1. */
  readonly w: Float64Array;
}

/** Newton on the Legendre polynomial converges quadratically: five steps from the cosine guess reach rounding. */
const NEWTON_STEPS = 8;

const known = new Map<number, Quadrature>();

/** Gauss-Legendre rule with `n` points on (0, 1): exact for polynomials of degree 2n - 1. */
export function gaussLegendre(n: number): Quadrature {
  const before = known.get(n);
  if (before !== undefined) return before;
  const x = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let t = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < NEWTON_STEPS; step++) {
      let p0 = 1;
      let p1 = t;
      for (let k = 2; k <= n; k++) {
        const p2 = ((2 * k - 1) * t * p1 - (k - 1) * p0) / k;
        p0 = p1;
        p1 = p2;
      }
      slope = (n * (t * p1 - p0)) / (t * t - 1);
      if (n === 1) slope = 1;
      t -= p1 / slope;
    }
    x[i] = (1 + t) / 2;
    w[i] = n === 1 ? 1 : 1 / ((1 - t * t) * slope * slope);
  }
  const rule = { x, w };
  known.set(n, rule);
  return rule;
}
