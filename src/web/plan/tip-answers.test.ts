import { expect, it } from 'vitest';
import { FIRST_TASKS, type TipGeometry, type TipTask, tipTasks } from '../../core/window/index.ts';
import { latestOnly } from './latest-only.ts';
import { type SolveTask, tipAnswers } from './tip-answers.ts';

const GEOMETRY: TipGeometry = {
  boreRadius: 5e-6,
  rimRadius: 12e-6,
  taper: 0.14,
  shankRadius: 180e-6,
  length: 12e-3,
  distance: 3e-3,
  place: 'outer edge',
};
type Result = Awaited<ReturnType<SolveTask>>;
const ONSET = { kind: 'onset', V_star: 1 } as Result;
const FAILED: Result = { kind: 'solver failed', reason: 'as told', at: { height: 0, V: 0 } };

function solvers(result: Result) {
  const solved: TipTask[] = [];
  const solve: SolveTask = async (_, task) => {
    solved.push(task);
    await Promise.resolve();
    return result;
  };
  return { solved, tips: tipAnswers(solve, solve) };
}
const always = () => true;

it('gives a first estimate after two solves, solves each task once and remembers them', async () => {
  const { solved, tips } = solvers(ONSET);
  const left: number[] = [];
  const onFirst = async (solvesLeft: number) => {
    left.push(solvesLeft);
  };
  expect(await tips.complete(GEOMETRY, always, onFirst)).toBe(true);
  const all = tipTasks(GEOMETRY);
  expect(left).toEqual([all.length - FIRST_TASKS]);
  expect(solved).toHaveLength(all.length);
  expect(new Set(solved.map((task) => JSON.stringify(task))).size).toBe(all.length);
  expect(tips.of(GEOMETRY)).toHaveLength(all.length);
  expect(await tips.complete(GEOMETRY, always, onFirst)).toBe(true);
  expect(solved).toHaveLength(all.length);
  expect(left).toHaveLength(1);
});

it('stops between solves when it is no longer wanted, and goes on from there', async () => {
  const { solved, tips } = solvers(ONSET);
  expect(
    await tips.complete(
      GEOMETRY,
      () => false,
      () => Promise.resolve(),
    ),
  ).toBe(false);
  expect(solved).toHaveLength(FIRST_TASKS);
  expect(await tips.complete(GEOMETRY, always, () => Promise.resolve())).toBe(true);
  expect(solved).toHaveLength(tipTasks(GEOMETRY).length);
});

it('asks no onset under pressure where there is none at rest', async () => {
  const { solved, tips } = solvers(FAILED);
  expect(await tips.complete(GEOMETRY, always, () => Promise.resolve())).toBe(true);
  expect(solved.length).toBeGreaterThan(0);
  expect(solved.every(({ pressure }) => pressure === 0)).toBe(true);
});

it('does of what is asked meanwhile only the last', async () => {
  const done: number[] = [];
  let release = () => {};
  const ask = latestOnly<number>(async (item) => {
    done.push(item);
    await new Promise<void>((resolve) => {
      release = resolve;
    });
  });
  ask(1);
  ask(2);
  ask(3);
  release();
  await Promise.resolve();
  await Promise.resolve();
  expect(done).toEqual([1, 3]);
});
