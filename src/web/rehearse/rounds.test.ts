import { expect, it } from 'vitest';
import { type Round, roundsWords } from './rounds.ts';

const round = (kind: Round['kind'], share: number | undefined, readings: number): Round => ({
  seed: 1,
  kind,
  share,
  readings,
});

it('sums up from the second round on, and leaves out shares that could not be', () => {
  expect(roundsWords([round('right', 1, 3)])).toBeUndefined();
  expect(roundsWords([round('right', 0.9, 3), round('alike', 0.5, 6), round('near', undefined, 10)])).toBe(
    '3 rounds in this visit: the fault named rightly in 2. Middle share of the best signal: 70 %. Middle count of readings: 6.',
  );
  expect(roundsWords([round('unsaid', undefined, 2), round('other', undefined, 4)])).toBe(
    '2 rounds in this visit: the fault named rightly in 0. Middle count of readings: 3.',
  );
});
