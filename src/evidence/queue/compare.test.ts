import { describe, expect, it } from 'vitest';
import { madeRun } from '../../../test/kit/made-queue.ts';
import { randomStream } from '../../core/random.ts';
import { compareEmitters, scoreRange } from './compare.ts';
import type { RunSummary } from './run-summary.ts';

function runs(seed: number, count: number, scatter: number, share: number): RunSummary[] {
  const draw = randomStream(seed, 'runs');
  return Array.from({ length: count }, () =>
    madeRun({
      scan_scatter: scatter * draw.factor(0.2),
      kept_share: Math.min(1, share + 0.05 * draw.normal()),
    }),
  );
}
const scatterOf = (comparison: ReturnType<typeof compareEmitters>) =>
  comparison.differences.find((one) => one.quantity === 'scatter from scan to scan')!;

describe('two emitters compared', () => {
  it('shows a ratio of 1.5 with a range that holds it', () => {
    const found = scatterOf(compareEmitters(runs(1, 30, 0.09, 0.8), runs(2, 30, 0.06, 0.9)));
    expect(found.low).toBeLessThan(1.5);
    expect(found.high).toBeGreaterThan(1.5);
    expect(found.low).toBeGreaterThan(1.2);
    expect(found.p).toBeLessThan(0.001);
    expect(found.sentence).toContain('they differ');
  });

  it('holds the truth in about 95 of 100 ranges and differs by chance in about 5', () => {
    let held = 0;
    let told = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const found = scatterOf(compareEmitters(runs(seed, 20, 0.06, 0.9), runs(seed + 1000, 20, 0.06, 0.9)));
      if (found.low <= 1 && found.high >= 1) held++;
      if (found.p < 0.05) told++;
    }
    // Binomial of 60: 57 and 3 expected; the limits are three standard errors off.
    expect(held).toBeGreaterThanOrEqual(52);
    expect(told).toBeLessThanOrEqual(8);
  });

  it('gives the same numbers again, and refuses what is too little in words', () => {
    const a = runs(1, 10, 0.06, 0.9);
    const b = runs(2, 10, 0.07, 0.9);
    expect(compareEmitters(a, b)).toEqual(compareEmitters(a, b));
    const few = compareEmitters(a.slice(0, 3), b);
    expect(few.differences).toEqual([]);
    expect(few.cautions[0]).toBe('Too few judged runs to compare: 3 and 10; expected 5 or more each.');
  });

  it('warns of neighbours that resemble each other', () => {
    const drifting = Array.from({ length: 20 }, (_, i) => madeRun({ scan_scatter: 0.05 * 1.05 ** i }));
    expect(compareEmitters(drifting, drifting).cautions.at(-1)).toContain('too narrow');
  });

  it('gives the published range of two shares, and one of some width where no file was bad', () => {
    const files = (bad: number, of: number) => Array.from({ length: of }, (_, i) => (i < bad ? 1 : 0));
    // 56 of 70 against 48 of 80 (Newcombe, 1998, Stat Med 17:873, table II, method 10, from memory).
    const { low, high } = scoreRange(files(56, 70), files(48, 80));
    const FOUR_DIGITS = 4;
    expect(low).toBeCloseTo(0.0524, FOUR_DIGITS);
    expect(high).toBeCloseTo(0.3339, FOUR_DIGITS);
    const nine = Array.from({ length: 9 }, () => madeRun({ kept_share: 1 }));
    const { differences } = compareEmitters(nine, nine);
    const bad = differences.find((one) => one.quantity === 'share of bad files')!;
    // No bad file in nine leaves up to 30 % open.
    expect([bad.low, bad.high].map((x) => Number(x.toFixed(2)))).toEqual([-0.3, 0.3]);
    const usable = differences.find((one) => one.quantity === 'share of usable minutes')!;
    expect(usable.sentence).toContain('95 % range not told, since all runs are alike');
  });
});
