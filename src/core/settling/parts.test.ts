import { describe, expect, it } from 'vitest';
import { randomStream } from '../random.ts';
import { cholesky, logDeterminant, solveLower, solveUpper } from './cholesky.ts';
import { onsetLaw, radiusShift, radiusSlope, USUAL_TIP } from './onset-law.ts';
import { COUNT, physicsMean, placeOf, ratioAt } from './physics-mean.ts';
import { costOf, type SettlePoint } from './session.ts';

const ALL = { ridge: true, ring: true, distance: true, angle: true };
const POINT: SettlePoint = {
  voltage_V: 1700,
  distance_mm: 2.4,
  lateral_x_mm: 0.3,
  lateral_y_mm: -0.4,
  angle_deg: 12,
};
const THETA = Float64Array.from([13, 0.2, 1.18, -2.2, 0.1, 0.2, 0.5, -0.8, 1, -0.5, 0.05, 20]);
/** Central differences of step 1e-5 err by about 1e-9 of the third derivative and 1e-10 of the value. */
const DIFFERENCE_ERROR = 1e-5;
const STEP = 1e-5;

describe('onset law', () => {
  it('gives the worked number of its formula', () => {
    const law = onsetLaw({ onset: { ...USUAL_TIP } });
    // √(R γ cos 49.3°/(2 ε0)) ln(4d/R), R 45 µm, γ 0.036 N/m, d 3 mm: 1364 V by hand.
    expect(Math.abs(Math.exp(law.base(3, 0)) - 1364)).toBeLessThan(2);
  });

  it('moves with the radius as the closed form of another radius does', () => {
    const one = onsetLaw({ onset: { ...USUAL_TIP } });
    const other = onsetLaw({ onset: { ...USUAL_TIP, radius_um: 45 * Math.exp(0.7) } });
    const shifted = one.base(2.2, 0) + radiusShift(one.logGap(2.2), 0.7);
    expect(Math.abs(shifted - other.base(2.2, 0))).toBeLessThan(1e-12);
    const slope = (radiusShift(5, 0.3 + STEP) - radiusShift(5, 0.3 - STEP)) / (2 * STEP);
    expect(Math.abs(slope - radiusSlope(5, 0.3))).toBeLessThan(DIFFERENCE_ERROR);
  });

  it('follows rows of a plan and the course of a gradient', () => {
    const rows = [
      { distance_mm: 2, onset_V: 1300 },
      { distance_mm: 4, onset_V: 1450 },
    ];
    const law = onsetLaw({
      onset: { ...USUAL_TIP, rows },
      onset_course: [
        { time_min: 0, factor: 1 },
        { time_min: 10, factor: 0.8 },
      ],
    });
    expect(Math.exp(law.base(2, 0))).toBeCloseTo(1300, 6);
    expect(Math.exp(law.base(4, 10))).toBeCloseTo(0.8 * 1450, 6);
    expect(Math.exp(law.base(Math.sqrt(8), 5))).toBeCloseTo(Math.sqrt(1300 * 1450 * 0.8), 6);
  });
});

describe('physics mean', () => {
  it('has the gradient of its own value', () => {
    const place = placeOf(onsetLaw({}), POINT, 12);
    const gradient = new Float64Array(COUNT);
    physicsMean(ALL, THETA, place, gradient);
    let checked = 0;
    for (let i = 0; i < COUNT; i++) {
      const at = (by: number) => physicsMean(ALL, THETA.with(i, THETA[i]! + by), place);
      const slope = (at(STEP) - at(-STEP)) / (2 * STEP);
      expect(Math.abs(slope - gradient[i]!)).toBeLessThan(DIFFERENCE_ERROR * Math.max(1, Math.abs(slope)));
      expect(gradient[i]).not.toBe(0);
      checked++;
    }
    expect(checked).toBe(COUNT);
  });

  it('is best at its own ratio and falls by one half a width away', () => {
    const law = onsetLaw({});
    const only = { ridge: true, ring: false, distance: false, angle: false };
    const at = (voltage_V: number) => placeOf(law, { ...POINT, voltage_V }, 0);
    const best = 1700 * (1.18 / ratioAt(THETA, at(1700)));
    const width = Math.exp(THETA[3]!) * (best / 1.18);
    const top = physicsMean(only, THETA, at(best));
    expect(Math.abs(top - 13)).toBeLessThan(1e-3);
    expect(Math.abs(top - physicsMean(only, THETA, at(best + width)) - 0.5)).toBeLessThan(1e-3);
  });
});

describe('cholesky', () => {
  it('solves and has the determinant of a matrix made from a known factor', () => {
    const n = 6;
    const random = randomStream(3, 'cholesky');
    const l = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) l[i * n + j] = i === j ? 1 + random.unit() : random.normal();
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) for (let k = 0; k < n; k++) a[i * n + j]! += l[i * n + k]! * l[j * n + k]!;
    const x = Float64Array.from({ length: n }, random.normal);
    const b = new Float64Array(n);
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) b[i]! += a[i * n + j]! * x[j]!;
    cholesky(n, a);
    solveUpper(n, a, solveLower(n, a, b));
    for (let i = 0; i < n; i++) expect(Math.abs(b[i]! - x[i]!)).toBeLessThan(1e-9);
    let log = 0;
    for (let i = 0; i < n; i++) log += 2 * Math.log(l[i * n + i]!);
    expect(Math.abs(logDeterminant(n, a) - log)).toBeLessThan(1e-9);
  });
});

describe('cost', () => {
  it('counts 10 s for each 50 V, 60 s for a move, 10 s for reading again', () => {
    expect(costOf(POINT, POINT)).toBe(10);
    expect(costOf(POINT, { ...POINT, voltage_V: 1580 })).toBe(30);
    expect(costOf(POINT, { ...POINT, voltage_V: 1750, lateral_x_mm: 0 })).toBe(70);
  });
});
