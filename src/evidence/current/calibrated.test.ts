import { expect, it } from 'vitest';
import { calibrated } from './calibrated.ts';
import { likeliest, REGIMES, type RegimeProbabilities } from './regimes.ts';

const stating = (steady: number): RegimeProbabilities => {
  const rest = (1 - steady) / (REGIMES.length - 1);
  return Object.fromEntries(
    REGIMES.map((name) => [name, name === 'steady' ? steady : rest]),
  ) as RegimeProbabilities;
};

it('adds to 1, rises with what was stated and never turns the name', () => {
  let before = 0;
  for (let k = 12; k <= 100; k++) {
    const p = calibrated(stating(k / 100));
    expect(REGIMES.reduce((s, name) => s + p[name], 0)).toBeCloseTo(1, 9);
    expect(likeliest(p)).toBe('steady');
    expect(p.steady).toBeGreaterThanOrEqual(before);
    before = p.steady;
  }
});

it('takes back what was too sure: nothing is stated above 0.99', () => {
  expect(calibrated(stating(0.966)).steady).toBeCloseTo(0.931, 9);
  expect(calibrated(stating(1)).steady).toBeCloseTo(0.99, 9);
  expect(calibrated(stating(0.4)).steady).toBeCloseTo(0.4, 9);
});
