import { describe, expect, it } from 'vitest';
import { madeDraws } from '../../../test/kit/made-draws.ts';
import { randomStream } from '../random.ts';
import { gridSize, holdingCounts, stretchOf } from './holding.ts';
import type { Moment } from './moment.ts';
import { staircase } from './staircase.ts';
import { supplyEdges } from './supply-edges.ts';

const SIZE = gridSize(3000);

function wandering(seed: number, count: number): Moment[] {
  const random = randomStream(seed, 'staircase');
  let base = random.between(800, 1400);
  return Array.from({ length: count }, (_, k) => {
    base = Math.min(1800, Math.max(500, base + random.between(-120, 120)));
    const draws = madeDraws({ count: 25, onset_V: base, spread: 0.1, steady: 1.1, tilt: 1.5 });
    return {
      time_min: k,
      organic_percent: k,
      part: 'elution' as const,
      edges: supplyEdges(draws, 0, 1e-12),
      ceiling_V: random.between(1700, 3000),
    };
  });
}

/** Fewest steps by trying every place to cut: the naive reference. */
function fewest(moments: readonly Moment[], least: number): number {
  const best = new Array<number>(moments.length + 1).fill(Number.POSITIVE_INFINITY);
  best[0] = 0;
  for (let to = 1; to <= moments.length; to++)
    for (let from = 0; from < to; from++) {
      const counts = holdingCounts(stretchOf(moments.slice(from, to), 25), SIZE, false);
      if (Math.max(...counts) >= least) best[to] = Math.min(best[to]!, best[from]! + 1);
    }
  return best[moments.length]!;
}

describe('staircase', () => {
  it('needs no more steps than the best of all cuts, and keeps its share in each', () => {
    let several = 0;
    for (let seed = 1; seed <= 30; seed++) {
      const moments = wandering(seed, 14);
      const least = 15;
      const task = {
        moments,
        first: 0,
        end: 13,
        demands: moments.map(() => true),
        size: SIZE,
        margin: 0,
        opening: Number.POSITIVE_INFINITY,
        fallback: 0,
      };
      const stairs = staircase(task, least);
      const reachable = moments.every(
        (m) => Math.max(...holdingCounts(stretchOf([m], 25), SIZE, false)) >= least,
      );
      if (!reachable) continue;
      expect(stairs.length).toBe(fewest(moments, least));
      if (stairs.length > 1) several++;
      for (const { from, to, supply } of stairs) {
        const counts = holdingCounts(stretchOf(moments.slice(from, to + 1), 25), SIZE, false);
        expect(counts[supply / 10]!).toBeGreaterThanOrEqual(least);
        for (const m of moments.slice(from, to + 1)) expect(supply).toBeLessThanOrEqual(m.ceiling_V);
      }
    }
    expect(several).toBeGreaterThan(10);
  });
});
