import { describe, expect, it } from 'vitest';
import { madeDraws } from '../../../test/kit/made-draws.ts';
import { expectWithin } from '../../../test/within.ts';
import { tipVoltage } from '../feed/index.ts';
import { drawsAlong } from './draws-along.ts';
import { spreadOf } from './percentiles.ts';
import { sprayingTips, stateAt, stateShares, supplyEdges } from './supply-edges.ts';

const EXACT = { relative: 1e-9, reason: 'closed form inverted' };
const made = { count: 40, onset_V: 1000, spread: 0.3, steady: 1.1, tilt: 1.6 };

describe('edges at the supply', () => {
  it('put the tip exactly on its edge: supply = tip + I R + inlet side', () => {
    const draws = madeDraws({ ...made, current_A: 100e-9, resistance_ohm: 3e9 });
    const edges = supplyEdges(draws, -200, 1e-12);
    for (const i of [0, 17, 39]) {
      const load = { onset: draws.onset_V[i]!, current: draws.current_A[i]! };
      expectWithin(tipVoltage(load, edges.steady[i]! + 200, 3e9)!, draws.steady_from_V[i]!, EXACT);
      expectWithin(tipVoltage(load, edges.tilt[i]! + 200, 3e9)!, draws.tilt_from_V[i]!, EXACT);
    }
    // 100 nA through 3 GΩ at 1.2 times onset.
    expectWithin(edges.drop[3]!, 300, EXACT);
    expect(edges.onset[0]).toBeCloseTo(draws.onset_V[0]! - 200, 9);
  });

  it('give each draw one state, and the shares add up to 1', () => {
    const edges = supplyEdges(madeDraws({ ...made, discharge_V: 2000 }), 0, 1e-12);
    for (const supply of [0, 690, 1000, 1500, 1999, 2001]) {
      const total = Object.values(stateShares(edges, supply)).reduce((a, b) => a + b, 0);
      expectWithin(total, 1, EXACT);
    }
    // Onset 707.5 V for the first draw: 778.25 steady, 1132 tilt, 1245.2 several.
    expect([700, 720, 1000, 1200, 1300, 2000].map((v) => stateAt(edges, 0, v))).toEqual([
      'no spray',
      'drips or pulsates',
      'steady cone-jet',
      'tilted',
      'several jets',
      'discharge',
    ]);
    const starved = supplyEdges(madeDraws({ ...made, minimum_flow_m3_s: 2e-12 }), 0, 1e-12);
    expect(stateAt(starved, 0, 1000)).toBe('below minimum flow');
    expect(sprayingTips(edges, 5)).toEqual([]);
  });
});

describe('draws along a composition', () => {
  it('computes each grid composition once and keeps each emitter through the interpolation', () => {
    const asked: number[] = [];
    const at = drawsAlong((x) => {
      asked.push(x);
      return madeDraws({ ...made, onset_V: 1000 - 5 * x, resistance_ohm: 1e9 * 2 ** (x / 10) });
    }, 10);
    for (const x of [0, 13, 17, 15, 40]) at(x);
    expect(asked).toEqual([0, 10, 20, 40]);
    const between = at(15);
    expectWithin(between.onset_V[7]!, madeDraws({ ...made, onset_V: 925 }).onset_V[7]!, EXACT);
    expectWithin(between.resistance_ohm[7]!, 1e9 * 2 ** 1.5, EXACT);
  });

  it('counts a discharge limit that only one side reaches, and never makes NaN', () => {
    const at = drawsAlong((x) => madeDraws({ ...made, ...(x > 5 ? { discharge_V: 3000 } : {}) }), 10);
    expect(at(3).discharge_from_V[0]).toBe(3000);
    expect(at(0).discharge_from_V[0]).toBe(Number.POSITIVE_INFINITY);
    expect(spreadOf([1, Infinity, Infinity, Infinity]).high).toBe(Infinity);
    expect(spreadOf([7]).middle).toBe(7);
    expect(spreadOf([0, 10]).middle).toBe(5);
  });

  it('ends at 100 % where the step does not divide it', () => {
    const asked: number[] = [];
    const at = drawsAlong((x) => {
      asked.push(x);
      return madeDraws({ ...made, onset_V: 1000 - 5 * x });
    }, 30);
    expectWithin(at(95).onset_V[7]!, madeDraws({ ...made, onset_V: 525 }).onset_V[7]!, EXACT);
    at(100);
    expect(asked).toEqual([90, 100]);
  });

  it('stands at one composition', () => {
    expect(drawsAlong(() => madeDraws(made))(30).count).toBe(40);
  });
});
