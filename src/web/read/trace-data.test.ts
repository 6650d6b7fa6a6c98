import { describe, expect, it } from 'vitest';
import { levelRange, levelTicks, timeTicks } from './trace-data.ts';

describe('trace ticks', () => {
  it('puts round minutes', () => {
    const ticks = timeTicks({ from: 30, to: 3630 }, 6);
    expect(ticks.map((t) => t.label)).toEqual(['10', '20', '30', '40', '50', '60']);
    expect(ticks[0]?.at).toBe(600);
    expect(timeTicks({ from: 60, to: 66 }, 5).map((t) => t.label)).toContain('1.02');
  });
  it('puts decades on a logarithmic level', () => {
    expect(levelTicks('log', 3, 6, 5).map((t) => t.at)).toEqual([3, 4, 5, 6]);
    expect(levelTicks('log', 4.9, 5.5, 5).length).toBeGreaterThan(1);
  });
  it('starts linear levels at zero and never collapses', () => {
    expect(levelRange('linear', 5, 10)).toEqual([0, 10.600000000000001]);
    expect(levelRange('linear', 0, 0)).toEqual([0, 1]);
    expect(levelRange('log', Number.NaN, Number.NaN)).toEqual([0, 1]);
    expect(levelTicks('linear', 0, 1e6, 5).length).toBeGreaterThan(3);
  });
});
