import { expect, test } from 'vitest';
import { madeRun } from '../../../test/kit/made-pair.ts';
import { earlierGood } from './earlier-good.ts';

const ALARM = 0.5;

test('a file is held against the good files before it, and a bad one serves none after it', () => {
  const queue = earlierGood();
  const runs = [1, 2, 3, 4, 5, 6].map((seed) =>
    madeRun({ seed, minutes: 8, ...(seed === 4 ? { spray: (t: number) => (t < 260 ? 1 : 0.6) } : {}) }),
  );
  const told = runs.map((reading, i) => queue.next(`run ${i + 1}`, reading));
  expect(told.map(({ good }) => good.length)).toEqual([0, 0, 2, 3, 3, 4]);
  expect(told[0]?.sentence).toContain('fewer than 2 good files stand before it');
  const bad = told.map(({ events }) => events.filter(({ confidence }) => confidence >= ALARM).length);
  expect(bad).toEqual([0, 0, 0, 1, 0, 0]);
  expect(told[3]?.sentence).toMatch(/^run 4: From 4:\d\d min on this run stays (39|40|41) %/);
  expect(told[4]?.good).toEqual(['run 1', 'run 2', 'run 3']);
  // Made alike: the ratio is 1 but for the scatter of single scans.
  expect(Math.abs((told[5]?.ratio ?? 0) - 1)).toBeLessThan(0.05);
  expect(told[5]?.sentence).toContain('flat.');
});

test('another method has no good files before it, and says why', () => {
  const queue = earlierGood();
  for (const seed of [1, 2]) queue.next(`run ${seed}`, madeRun({ seed, minutes: 8 }));
  const told = queue.next('other', madeRun({ seed: 3, minutes: 8, other: true }));
  expect(told.good).toEqual([]);
  expect(told.events).toEqual([]);
  expect(told.sentence).toContain('other ions');
});
