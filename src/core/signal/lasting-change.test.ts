import { describe, expect, test } from 'vitest';
import { randomStream } from '../random.ts';
import { kolmogorovChance, kuiperChance, lastingChange } from './lasting-change.ts';

const BLOCK = 6;

function series(seed: number, n: number, memory: number, change: (i: number) => number): Float64Array {
  const stream = randomStream(seed, 'series');
  let x = 0;
  return Float64Array.from({ length: n }, (_, i) => {
    x = memory * x + Math.sqrt(1 - memory * memory) * stream.normal();
    return 0.1 * x + change(i);
  });
}

test('the chance is Kolmogorov’s: published points of its table', () => {
  // 1 %, 5 % and 10 % points (Smirnov, 1948, Ann Math Stat 19:279, from memory), given to two decimals.
  expect(Math.abs(kolmogorovChance(1.63) - 0.01)).toBeLessThan(5e-4);
  expect(Math.abs(kolmogorovChance(1.358) - 0.05)).toBeLessThan(5e-4);
  expect(Math.abs(kolmogorovChance(1.224) - 0.1)).toBeLessThan(5e-4);
  expect(kolmogorovChance(0)).toBe(1);
  expect(kolmogorovChance(9)).toBeLessThan(1e-60);
});

describe('flat series', () => {
  // Shares of 200 series whose chance is told below 1 %: the binomial bound of the named share at three of its sigma.
  for (const { memory, n, most } of [
    { memory: 0, n: 100, most: 0.025 },
    { memory: 0.5, n: 100, most: 0.035 },
    { memory: 0.8, n: 100, most: 0.06 },
  ])
    test(`with memory ${memory} are seldom called changed`, () => {
      let told = 0;
      for (let seed = 0; seed < 200; seed++) {
        const read = lastingChange(
          series(seed, n, memory, () => 0),
          { block: BLOCK },
        );
        if (read.change!.chance < 0.01) told++;
      }
      expect(told / 200).toBeLessThan(most);
    });
});

test('a step is found at its place with its size', () => {
  for (let seed = 0; seed < 20; seed++) {
    const { change } = lastingChange(
      series(seed, 100, 0.3, (i) => (i < 60 ? 0.7 : 0.7 - 0.36)),
      { block: BLOCK },
    );
    expect(change?.shape).toBe('step');
    // Neighbours differ by 0.1, the step by 0.36: a few samples.
    expect(Math.abs(change!.at - 60)).toBeLessThanOrEqual(4);
    // Three errors of two middles of 60 and 40 samples with memory.
    expect(Math.abs(change!.size_log + 0.36)).toBeLessThan(0.1);
    expect(change!.chance).toBeLessThan(1e-3);
  }
});

test('in a long series the place is found as well', () => {
  const { change } = lastingChange(
    series(1, 1500, 0.3, (i) => (i < 871 ? 0 : -0.3)),
    { block: BLOCK },
  );
  expect(change?.shape).toBe('step');
  expect(Math.abs(change!.at - 871)).toBeLessThanOrEqual(4);
});

test('a slow change to the end is one, and its size is that of the end', () => {
  for (let seed = 0; seed < 20; seed++) {
    const { change } = lastingChange(
      series(seed, 100, 0.3, (i) => (i < 50 ? 0 : -0.9 * ((i - 50) / 50))),
      { block: BLOCK },
    );
    expect(change?.shape).toBe('slow');
    expect(Math.abs(change!.size_log + 0.9)).toBeLessThan(0.2);
    expect(change!.chance).toBeLessThan(1e-3);
  }
});

test('what stands far from nought is as flat as what stands at it', () => {
  const at = (offset: number) =>
    lastingChange(
      series(4, 80, 0.5, () => offset),
      { block: BLOCK },
    ).change!.chance;
  expect(at(50)).toBeCloseTo(at(0), 6);
});

test('the chance of a range is Kuiper’s', () => {
  // 1 % and 5 % points of its table (Stephens, 1965, Biometrika 52:309, from memory), for many samples.
  expect(Math.abs(kuiperChance(2.001) - 0.01)).toBeLessThan(5e-4);
  expect(Math.abs(kuiperChance(1.747) - 0.05)).toBeLessThan(5e-4);
  expect(kuiperChance(0)).toBe(1);
});

test('a long stretch that comes back is one, at its place with its size', () => {
  for (let seed = 0; seed < 20; seed++) {
    const { change } = lastingChange(
      series(seed, 100, 0.3, (i) => (i >= 30 && i < 70 ? -0.4 : 0)),
      { block: BLOCK },
    );
    expect(change?.shape).toBe('stretch');
    expect(Math.abs(change!.at - 30)).toBeLessThanOrEqual(4);
    expect(Math.abs(change!.past - 70)).toBeLessThanOrEqual(4);
    expect(Math.abs(change!.size_log + 0.4)).toBeLessThan(0.1);
    expect(change!.chance).toBeLessThan(1e-3);
  }
});

test('too few samples have no answer', () => {
  expect(lastingChange([1, 2, 3], { block: BLOCK }).change).toBeUndefined();
});
