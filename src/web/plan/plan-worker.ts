import { expose } from 'comlink';
import { type Fault, InputError } from '../../core/errors.ts';
import { planFor } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';

export type PlanAnswer = { plan: Plan } | { faults: readonly Fault[] } | { trouble: string };

const desk = {
  /** Errors travel as values: a thrown InputError would lose its faults on the way between threads. */
  plan(setup: Setup): PlanAnswer {
    try {
      return { plan: planFor(setup) };
    } catch (trouble) {
      if (trouble instanceof InputError) return { faults: trouble.faults };
      return { trouble: trouble instanceof Error ? trouble.message : String(trouble) };
    }
  },
};
export type PlanDesk = typeof desk;

expose(desk);
