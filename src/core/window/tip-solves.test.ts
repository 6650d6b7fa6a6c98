import { expect, it } from 'vitest';
import { tipFrom, tipOnset, unitOnset, withTip } from './tip-onset.ts';
import { FIRST_TASKS, solveTipTask, type TipGeometry, tipTasks } from './tip-solves.ts';

const PULLED: TipGeometry = {
  boreRadius: 5e-6,
  rimRadius: 12e-6,
  taper: 0.14,
  shankRadius: 180e-6,
  length: 12e-3,
  distance: 3e-3,
  place: 'outer edge',
};
/** The first estimate's onset at the stated place is the solver's own; between the edges it moved by 1.5 % at most (computed). */
const FIRST_ESTIMATE = 0.02;

const answersOf = (geometry: TipGeometry) =>
  tipTasks(geometry).map((task) => ({ task, result: solveTipTask(geometry, task) }));

it('asks the stated place first and the other edge next', () => {
  expect(tipTasks(PULLED).slice(0, FIRST_TASKS)).toEqual([
    { place: 'outer edge', pressure: 0 },
    { place: 'inner edge', pressure: 0 },
  ]);
  expect(tipTasks(PULLED)).toHaveLength(5);
  expect(tipTasks({ ...PULLED, place: 'flooded shank' })[1]?.place).toBe('outer edge');
});

it('gives the same onset from answers solved apart, and nearly the same from the first two', () => {
  const answers = answersOf(PULLED);
  expect(tipFrom(PULLED, answers)).toEqual(tipOnset(PULLED));
  const first = tipFrom(PULLED, answers.slice(0, FIRST_TASKS));
  expect(first.places.map(({ from }) => from)).toEqual(['solver', 'solver', 'closed form']);
  for (const radius of [5e-6, 8e-6, 12e-6]) {
    const off = unitOnset(first, radius, 0) / unitOnset(tipOnset(PULLED), radius, 0) - 1;
    expect(Math.abs(off)).toBeLessThan(FIRST_ESTIMATE);
  }
  expect(() => tipFrom(PULLED, answers.slice(1))).toThrow('the stated place is not solved');
});

it('is taken for the geometry only meanwhile, while it is incomplete', () => {
  const geometry = { ...PULLED, distance: 2.5e-3 };
  const first = tipFrom(geometry, answersOf(geometry).slice(0, 1));
  expect(withTip(first, false, () => tipOnset(geometry))).toBe(first);
  expect(tipOnset(geometry)).not.toBe(first);
});
