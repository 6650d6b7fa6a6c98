import { type Remote, wrap } from 'comlink';
import { useEffect, useMemo, useRef, useState } from 'react';
import { setupFrom } from '../../contract/index.ts';
import { type Fault, InputError } from '../../core/errors.ts';
import type { MeniscusShapes } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import type { Observation } from '../../core/window/index.ts';
import type { SetupDraft } from './draft.ts';
import type { PlanDesk } from './plan-worker.ts';

/** Long enough to skip the digits of a fast typist, short enough that a dragged rim is answered within 300 ms. */
const PAUSE_MS = 40;

export interface PlanDone {
  setup: Setup;
  plan: Plan;
  shapes: MeniscusShapes | undefined;
  /** The gradient belongs to earlier values: it follows after the window. */
  gradientStale: boolean;
}

export interface PlanState {
  /** The last set-up that was planned, with its plan. */
  done?: PlanDone;
  /** The draft as a set-up, where it has no faults: what can be drawn at once. */
  drawn?: Setup;
  /** True while `done` does not belong to the draft. */
  stale: boolean;
  faults: readonly Fault[];
  trouble?: string;
}

/**
 * Plans the draft off the main thread; the previous answer stands, marked stale, until the next arrives. The window comes
 * first, the gradient after it; only the latest draft is planned when several came while the worker was busy.
 */
export function usePlan(draft: SetupDraft, observations: readonly Observation[]): PlanState {
  const desk = usePlanDesk();
  const busy = useRef<Promise<void>>(Promise.resolve());
  const [state, setState] = useState<PlanState>({ stale: true, faults: [] });
  const checked = useMemo(() => check(draft), [draft]);
  useEffect(() => {
    const setup = checked.setup;
    setState((now) => ({ ...now, stale: true, faults: checked.faults, ...(setup ? { drawn: setup } : {}) }));
    if (!setup) return;
    let current = true;
    const ask = async (asked: Setup, whole: boolean) => {
      const answer = await desk.current?.plan(asked, observations);
      if (!current || !answer) return;
      if ('plan' in answer)
        setState((now) => ({
          done: {
            setup,
            shapes: answer.shapes,
            gradientStale: !whole,
            plan: whole ? answer.plan : withGradientOf(answer.plan, now.done?.plan),
          },
          drawn: setup,
          stale: false,
          faults: [],
        }));
      else if ('faults' in answer) setState((now) => ({ ...now, faults: answer.faults }));
      else setState((now) => ({ ...now, trouble: answer.trouble }));
    };
    const timer = setTimeout(() => {
      // One question at a time: whoever waits and is no longer current asks nothing.
      busy.current = busy.current
        .then(async () => {
          if (!current) return;
          const { gradient: _gradient, ...without } = setup;
          if (setup.gradient !== undefined) await ask(without, false);
          if (current) await ask(setup, true);
        })
        .catch((trouble: unknown) => {
          if (current) setState((now) => ({ ...now, trouble: String(trouble) }));
        });
    }, PAUSE_MS);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [checked, desk, observations]);
  return state;
}

function withGradientOf(plan: Plan, before: Plan | undefined): Plan {
  if (before?.gradient === undefined) return plan;
  return { ...plan, gradient: before.gradient, along_gradient: before.along_gradient };
}

function usePlanDesk() {
  const desk = useRef<Remote<PlanDesk> | null>(null);
  useEffect(() => {
    const worker = new Worker(new URL('./plan-worker.ts', import.meta.url), { type: 'module' });
    desk.current = wrap<PlanDesk>(worker);
    return () => {
      desk.current = null;
      worker.terminate();
    };
  }, []);
  return desk;
}

function check(draft: SetupDraft): { setup?: Setup; faults: readonly Fault[] } {
  try {
    return { setup: setupFrom(draft), faults: [] };
  } catch (trouble) {
    if (trouble instanceof InputError) return { faults: trouble.faults };
    throw trouble;
  }
}
