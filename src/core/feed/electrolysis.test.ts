import { expect, it } from 'vitest';
import { NA, NL_MIN } from '../units.ts';
import { electrolysis } from './electrolysis.ts';

/** The worked numbers are given to two figures. */
const TWO_FIGURES = 0.03;

it('gives the worked numbers: 0.62 mM of acid at 50 nA and 50 nL/min, oxygen 8 % at 200 nA and 300 nL/min (computed)', () => {
  expect(Math.abs(electrolysis(50 * NA, 50 * NL_MIN, 'positive').ions_mol_m3 / 0.62 - 1)).toBeLessThan(
    TWO_FIGURES,
  );
  expect(Math.abs(electrolysis(200 * NA, 300 * NL_MIN, 'positive').saturation / 0.08 - 1)).toBeLessThan(
    TWO_FIGURES,
  );
  expect(Math.abs(electrolysis(50 * NA, 50 * NL_MIN, 'negative').gas_mol_m3 / 0.31 - 1)).toBeLessThan(
    TWO_FIGURES,
  );
  expect(electrolysis(100 * NA, 20 * NL_MIN, 'negative').saturation).toBeGreaterThan(1.9);
});
