import { expect, test } from 'vitest';
import { randomStream, xoshiro128 } from './random.ts';

test('the bare generator gives the known start from the state 1, 2, 3, 4', () => {
  const next = xoshiro128(1, 2, 3, 4);
  // By hand from the definition: 2·5 = 10, rotated by 7 is 1280, times 9 is 11520; then b is 1^2^3 = 0.
  expect([next(), next()]).toEqual([11520, 0]);
  expect([next(), next()]).toEqual([5927040, 70819200]);
});

test('one seed and name give one sequence, another name another', () => {
  const draw = (seed: number, name: string): number[] => {
    const stream = randomStream(seed, name);
    return Array.from({ length: 5 }, () => stream.unit());
  };
  expect(draw(7, 'a')).toEqual(draw(7, 'a'));
  expect(draw(7, 'a')).not.toEqual(draw(7, 'b'));
  expect(draw(7, 'a')).not.toEqual(draw(8, 'a'));
});

test('normal numbers have mean 0 and variance 1 within four standard errors', () => {
  const stream = randomStream(1, 'normal');
  const n = 20000;
  const values = Array.from({ length: n }, () => stream.normal());
  const mean = values.reduce((sum, x) => sum + x, 0) / n;
  const variance = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / n;
  expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(n));
  expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
});

test('index and between keep inside their bounds', () => {
  const stream = randomStream(3, 'bounds');
  for (let i = 0; i < 1000; i++) {
    expect(stream.index(4)).toBeLessThan(4);
    const x = stream.between(-2, 5);
    expect(x >= -2 && x < 5).toBe(true);
  }
});
