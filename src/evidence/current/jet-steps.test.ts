import { expect, it } from 'vitest';
import { jetShares } from './jet-steps.ts';
import type { LevelChange } from './level-changes.ts';

const NA = 1e-9;
const middles = Array.from({ length: 10 }, (_, i) => i + 0.5);

/** Flat levels [nA] that follow each other at these times [s]. */
function changesOf(levels: readonly number[], times: readonly number[]): LevelChange[] {
  return times.map((at_s, k) => ({
    at_s,
    before: levels[k]! * NA,
    after: levels[k + 1]! * NA,
    before_s: at_s - (times[k - 1] ?? 0),
    after_s: (times[k + 1] ?? 10) - at_s,
    between_s: 0.001,
    scatter_before: NA,
    scatter_after: NA,
    wander: 0.01,
  }));
}

const several = (levels: readonly number[], times: readonly number[]) =>
  [...jetShares(changesOf(levels, times), [], middles)].map((share) => (share > 0.5 ? 1 : 0)).join('');

it('a rise by the root of two: several jets after it, until the level falls back', () => {
  expect(several([100, 141.4], [4])).toBe('0000111111');
  expect(several([100, 141.4, 100], [4, 7])).toBe('0000111000');
});

it('a fall by the root of two: several jets before it, as far back as the level held', () => {
  expect(several([141.4, 100], [6])).toBe('1111110000');
  expect(several([173.2, 141.4, 100], [3, 6])).toBe('1111110000');
});

it('a step by the root of three halves proves nothing alone, but does where the level comes straight back', () => {
  expect(several([141.4, 173.2], [5])).toBe('0000000000');
  expect(several([173.2, 141.4, 173.2], [5, 5.1])).toBe('1111111111');
  expect(several([173.2, 141.4, 165], [5, 5.1])).toBe('0000000000');
});

it('other steps, small currents and a noisier lower level prove no jets', () => {
  expect(several([100, 130], [4])).toBe('0000000000');
  expect(several([5, 7.07], [4])).toBe('0000000000');
  const noisy = changesOf([100, 141.4], [4]).map((c) => ({ ...c, scatter_before: 5 * NA }));
  expect(Math.max(...jetShares(noisy, [], middles))).toBe(0);
});
