import { describe, expect, it } from 'vitest';
import type { GradientPlan } from '../gradient/index.ts';
import { gradientWithheld } from './advice-withheld.ts';

const withVerdict = (verdict: GradientPlan['fixed']['verdict']) =>
  ({ fixed: { verdict, probability: 0.12 } }) as GradientPlan;

describe('advice along a gradient', () => {
  it('is withheld with its reason where no single supply serves', () => {
    expect(gradientWithheld(withVerdict('no single voltage'))).toContain(
      'no single voltage holds the elution (the best holds in 12 %)',
    );
    expect(gradientWithheld(withVerdict('no voltage'))).toContain('discharge limit');
    expect(gradientWithheld(withVerdict('flow below the minimum'))).toContain('below the minimum');
  });

  it('stands where one voltage or a compromise does, and without a gradient', () => {
    expect(gradientWithheld(withVerdict('one voltage holds'))).toBeNull();
    expect(gradientWithheld(withVerdict('compromise'))).toBeNull();
    expect(gradientWithheld(undefined)).toBeNull();
  });
});
