import { describe, expect, it } from 'vitest';
import { comparePlan, type PlanEvidence } from './compare-plan.ts';
import { byRegime } from './regimes.ts';
import type { LevelStep } from './steps.ts';

const NA = 1e-9;
const EXPECTED = 190;

function compared(
  level_nA: number,
  told: { steady?: true; flow_off_nA?: number; steps?: LevelStep[]; drift?: number },
) {
  const factor = told.steady ? 1.2 : 2;
  const evidence: PlanEvidence = {
    expected: {
      current_A: EXPECTED * NA,
      low_A: (EXPECTED / factor) * NA,
      high_A: EXPECTED * factor * NA,
      calibrated: told.steady === true,
    },
    pulsation_Hz: { low: 4e4, high: 9e4 },
    level_A: level_nA * NA,
    drift: told.drift ?? 0,
    steps: told.steps ?? [],
    shares: byRegime((name) => (name === 'steady' ? 1 : 0)),
    flow_off_A: told.flow_off_nA === undefined ? undefined : told.flow_off_nA * NA,
  };
  const comparison = comparePlan(evidence);
  const first = comparison.meanings[0]!;
  return { ...comparison, first: first.cause, probability: first.probability };
}

const step = (ratio: number, shape: Partial<LevelStep> = {}): LevelStep => ({
  at_s: 1,
  before_A: EXPECTED * NA,
  after_A: EXPECTED * ratio * NA,
  rise_s: 0.001,
  sharp: true,
  noisier: 1,
  voltage_moved: false,
  ...shape,
});

describe('before the own steady reading', () => {
  it.each([0.55, 0.7, 1, 1.4, 1.9])(
    'a ratio of %f inside the band speaks for nothing but the plan',
    (ratio) => {
      const { first, inside, sentence } = compared(EXPECTED * ratio, {});
      expect(inside).toBe(true);
      expect(first).toBe('as planned');
      expect(sentence).toMatch(/names no regime by itself/);
    },
  );

  it.each([0.3, 2.2, 4])('a ratio of %f beside the band makes no cause more likely than not', (ratio) => {
    const found = compared(EXPECTED * ratio, {});
    expect(found.inside).toBe(false);
    if (found.first !== 'as planned' && ratio < 3) expect(found.probability).toBeLessThan(0.75);
    expect(found.sentence).toMatch(/outside the band/);
  });
});

describe('with it', () => {
  it('a sharp step to 1.4 times is a second jet, one to twice several', () => {
    expect(compared(269, { steady: true, steps: [step(Math.SQRT2)] }).first).toBe('second jet');
    const many = [step(Math.SQRT2), step(Math.sqrt(1.5)), step(Math.sqrt(4 / 3))];
    expect(compared(380, { steady: true, steps: many }).first).toBe('several jets');
  });

  it('a creeping rise is a leak, a noisy one a corona', () => {
    expect(compared(380, { steady: true, drift: 0.8 }).first).toBe('leak');
    const noisy = [step(2, { noisier: 30 })];
    expect(compared(480, { steady: true, steps: noisy }).first).toBe('corona');
  });

  it('the current with the flow off makes a leak, and none of it rules one out', () => {
    expect(compared(380, { steady: true, flow_off_nA: 180 }).first).toBe('leak');
    const dry = compared(380, { steady: true, drift: 0.8, flow_off_nA: 1 });
    expect(dry.first).not.toBe('leak');
    expect(dry.meanings.find(({ cause }) => cause === 'leak')!.probability).toBeLessThan(0.15);
  });

  it('a corona that burns without flow stays a corona where the rise came with spikes', () => {
    expect(compared(480, { steady: true, steps: [step(2, { noisier: 30 })], flow_off_nA: 180 }).first).toBe(
      'corona',
    );
  });

  it('what flows with the flow off is taken off in words', () => {
    expect(compared(380, { steady: true, flow_off_nA: 190 }).sentence).toMatch(/190 nA are left, 1 times/);
    expect(compared(100, { steady: true, flow_off_nA: 120 }).sentence).toMatch(/none of it need be spray/);
    expect(compared(190, { steady: true, flow_off_nA: 1 }).sentence).not.toMatch(/flow off/);
  });
});
