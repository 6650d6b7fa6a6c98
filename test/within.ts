import { expect } from 'vitest';

/** A tolerance with its reason. Relative; refuses one that could never fail. */
export interface Tolerance {
  relative: number;
  reason: string;
}

export function expectWithin(value: number, expected: number, tolerance: Tolerance): void {
  if (!(tolerance.relative > 0 && tolerance.relative < 1))
    throw new RangeError(`invalid tolerance: ${tolerance.relative}; expected 0 < relative < 1`);
  expect(Number.isFinite(value)).toBe(true);
  expect(
    Math.abs(value / expected - 1),
    `${value} against ${expected} (${tolerance.reason})`,
  ).toBeLessThanOrEqual(tolerance.relative);
}
