import { expose } from 'comlink';
import { type Fault, InputError } from '../../core/errors.ts';
import { conditionOf, type MeniscusShapes, meniscusShapes, planFor } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import type { Observation } from '../../core/window/index.ts';

export type PlanAnswer =
  | { plan: Plan; shapes: MeniscusShapes | undefined }
  | { faults: readonly Fault[] }
  | { trouble: string };

const desk = {
  /** Errors travel as values: a thrown InputError would lose its faults on the way between threads. */
  plan(setup: Setup, observations: readonly Observation[]): PlanAnswer {
    try {
      const plan = planFor(setup, { observations });
      const { tip, jetLiquid } = conditionOf(setup);
      return { plan, shapes: meniscusShapes(tip, jetLiquid.surfaceTension) };
    } catch (trouble) {
      if (trouble instanceof InputError) return { faults: trouble.faults };
      return { trouble: trouble instanceof Error ? trouble.message : String(trouble) };
    }
  },
};
export type PlanDesk = typeof desk;

expose(desk);
