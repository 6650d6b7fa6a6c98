/**
 * The equilibria of one tip spread over two workers: both take one task, which makes a first estimate; while that is planned
 * the second goes on, and the first joins it. Answers are kept for the last geometries, so that only a new shape costs a solve.
 */
import {
  FIRST_TASKS,
  type TipAnswer,
  type TipGeometry,
  type TipTask,
  tipTasks,
} from '../../core/window/index.ts';

const KEPT = 16;

export type SolveTask = (geometry: TipGeometry, task: TipTask) => Promise<TipAnswer['result']>;

export interface TipAnswers {
  of: (geometry: TipGeometry) => readonly TipAnswer[];
  /** True when every task of the geometry has its answer; false when it was no longer wanted on the way. */
  complete: (
    geometry: TipGeometry,
    wanted: () => boolean,
    onFirst: (solvesLeft: number) => Promise<void>,
  ) => Promise<boolean>;
}

export function tipAnswers(front: SolveTask, helper: SolveTask): TipAnswers {
  const kept = new Map<string, TipAnswer[]>();
  const answersTo = (geometry: TipGeometry): TipAnswer[] => {
    const key = JSON.stringify(geometry);
    const known = kept.get(key) ?? [];
    kept.delete(key);
    kept.set(key, known);
    if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
    return known;
  };
  const complete: TipAnswers['complete'] = async (geometry, wanted, onFirst) => {
    const answers = answersTo(geometry);
    const left = missing(geometry, answers);
    const take = async (solve: SolveTask): Promise<boolean> => {
      const task = left.shift();
      if (task === undefined) return false;
      answers.push({ task, result: await solve(geometry, task) });
      return true;
    };
    const goOn = async (solve: SolveTask) => {
      while (wanted() && (await take(solve)));
    };
    if (answers.length < FIRST_TASKS) {
      // The first two are solved in any case: while a shape is dragged on, onset and window still follow.
      const other = answers.length + 1 < FIRST_TASKS ? take(helper) : Promise.resolve(false);
      await Promise.all([take(front), other]);
      left.splice(0, left.length, ...missing(geometry, answers));
      const running = left.length;
      const rest = goOn(helper);
      if (running > 0) await onFirst(running);
      await goOn(front);
      await rest;
    } else await Promise.all([goOn(front), goOn(helper)]);
    return missing(geometry, answers).length === 0;
  };
  return { of: answersTo, complete };
}

/** Without an onset at rest the onsets under pressure are not asked. */
function missing(geometry: TipGeometry, answers: readonly TipAnswer[]): TipTask[] {
  const answerTo = (task: TipTask) =>
    answers.find((answer) => answer.task.place === task.place && answer.task.pressure === task.pressure)
      ?.result;
  const stated = answerTo({ place: geometry.place, pressure: 0 });
  const failed = stated !== undefined && stated.kind !== 'onset';
  return tipTasks(geometry).filter(
    (task) => answerTo(task) === undefined && !(failed && task.pressure !== 0),
  );
}
