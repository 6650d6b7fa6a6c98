import { describe, expect, it } from 'vitest';
import { madeDraws } from '../../../test/kit/made-draws.ts';
import { randomStream } from '../random.ts';
import { gridSize, holdingCounts, holds, stretchOf } from './holding.ts';
import type { Moment } from './moment.ts';
import { type Stair, type StaircaseTask, staircase } from './staircase.ts';
import { supplyEdges } from './supply-edges.ts';
import { together } from './together.ts';

const SIZE = gridSize(3500);

type Band = readonly [number, number];

/** Moments whose draws are steady in the given bands [V]. */
function momentsOf(rows: readonly (readonly Band[])[]): Moment[] {
  return rows.map((bands, k) => {
    const edges = supplyEdges(
      madeDraws({ count: bands.length, onset_V: 500, spread: 0.1, steady: 1.1, tilt: 1.5 }),
      0,
      1e-9,
    );
    const steady = Float64Array.from(bands, ([low]) => low);
    const top = Float64Array.from(bands, ([, high]) => high);
    const flows = new Uint8Array(bands.length).fill(1);
    return {
      time_min: k,
      organic_percent: k,
      part: 'elution',
      edges: { ...edges, steady, top, flows },
      ceiling_V: 3500,
    };
  });
}

function taskOf(moments: readonly Moment[], fallback: number): StaircaseTask {
  const demands = moments.map(() => true);
  return {
    moments,
    first: 0,
    end: moments.length - 1,
    demands,
    size: SIZE,
    margin: 0,
    opening: 3500,
    fallback,
  };
}

function throughout(moments: readonly Moment[], stairs: readonly Stair[]): number {
  const count = moments[0]!.edges.count;
  const spans = stairs.map(({ from, to }) => stretchOf(moments.slice(from, to + 1), count));
  return Array.from({ length: count }, (_, i) => i).filter((i) =>
    spans.every((span, k) => holds(span, i, stairs[k]!.supply)),
  ).length;
}

describe('voltages chosen together', () => {
  it('serve the emitters that hold throughout, where each step by itself would serve others', () => {
    // 45 emitters are steady near 1050 V, then at 3050; 40 near 1550, then at 1450; 15 nowhere, then at 1450.
    const kinds: [number, Band, Band][] = [
      [45, [1000, 1100], [3000, 3100]],
      [40, [1500, 1600], [1400, 1500]],
      [15, [100, 110], [1400, 1500]],
    ];
    const row = (at: 1 | 2) => kinds.flatMap((kind) => Array.from({ length: kind[0] }, (): Band => kind[at]));
    const moments = momentsOf([row(1), row(1), row(2), row(2)]);
    const task = taskOf(moments, 1550);
    const apart = staircase(task, 40);
    expect(apart).toHaveLength(2);
    expect(throughout(moments, apart)).toBe(0);
    const chosen = together(task, apart, 40);
    expect(throughout(moments, chosen)).toBe(40);
    expect(chosen.map(({ supply }) => supply)).toEqual([1540, 1440]);
  });

  it('never serve fewer than the staircase or one voltage throughout, and keep each step', () => {
    let better = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const random = randomStream(seed, 'together');
      const base = Array.from({ length: 60 }, () => random.between(700, 2500));
      const rows = Array.from({ length: 10 }, (_, k) =>
        base.map((low): Band => [low * (1 - 0.03 * k), low * (1 - 0.03 * k) * random.between(1.1, 1.5)]),
      );
      const moments = momentsOf(rows);
      const least = 8;
      const one = { from: 0, to: 9, keeps: true };
      const best = Array.from({ length: SIZE }, (_, k) => 10 * k).reduce((a, b) =>
        throughout(moments, [{ ...one, supply: b }]) > throughout(moments, [{ ...one, supply: a }]) ? b : a,
      );
      const task = taskOf(moments, best);
      const apart = staircase(task, least);
      const chosen = together(task, apart, least);
      const held = throughout(moments, chosen);
      expect(held).toBeGreaterThanOrEqual(throughout(moments, apart));
      const counts = apart.map(({ from, to }) =>
        holdingCounts(stretchOf(moments.slice(from, to + 1), 60), SIZE, false),
      );
      if (counts.every((count) => count[best / 10]! >= least))
        expect(held).toBeGreaterThanOrEqual(throughout(moments, [{ ...one, supply: best }]));
      for (const [k, { supply }] of chosen.entries())
        expect(counts[k]![supply / 10]!).toBeGreaterThanOrEqual(least);
      if (held > throughout(moments, apart)) better++;
    }
    expect(better).toBeGreaterThan(10);
  });
});
