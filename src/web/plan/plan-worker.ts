/** Beside the page: one equilibrium of a tip, or one plan. Three of these work at once (plan-desk.ts). */
import { expose } from 'comlink';
import { type Fault, InputError } from '../../core/errors.ts';
import type { MeniscusResult } from '../../core/meniscus/index.ts';
import {
  conditionOf,
  type MeniscusShapes,
  meniscusShapes,
  planFor,
  tipGeometryOf,
} from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import {
  solveTipTask,
  type TipAnswer,
  type TipGeometry,
  type TipTask,
  tipFrom,
  withTip,
} from '../../core/window/index.ts';
import { saidBy } from '../said-by.ts';
import type { Seen } from './seen.ts';

export type PlanAnswer =
  | { plan: Plan; shapes: MeniscusShapes | undefined }
  | { faults: readonly Fault[] }
  | { trouble: string };

/** Equilibria that were solved elsewhere; without them the plan solves its own. */
export interface Solved {
  answers: readonly TipAnswer[];
  complete: boolean;
}

const work = {
  solve(geometry: TipGeometry, task: TipTask): MeniscusResult {
    return solveTipTask(geometry, task);
  },
  /** Errors travel as values: a thrown InputError would lose its faults on the way between threads. */
  plan(setup: Setup, seen: Seen, solved?: Solved): PlanAnswer {
    const answer = (): PlanAnswer => {
      const plan = planFor(setup, seen);
      const { tip, jetLiquid } = conditionOf(setup);
      return { plan, shapes: meniscusShapes(tip, jetLiquid.surfaceTension) };
    };
    try {
      if (solved === undefined) return answer();
      return withTip(tipFrom(tipGeometryOf(setup), solved.answers), solved.complete, answer);
    } catch (trouble) {
      if (trouble instanceof InputError) return { faults: trouble.faults };
      return { trouble: saidBy(trouble) };
    }
  },
};
export type PlanWork = typeof work;

expose(work);
