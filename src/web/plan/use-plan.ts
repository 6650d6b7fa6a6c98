import { type Remote, wrap } from 'comlink';
import { useEffect, useMemo, useRef, useState } from 'react';
import { setupFrom } from '../../contract/index.ts';
import { type Fault, InputError } from '../../core/errors.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import type { SetupDraft } from './draft.ts';
import type { PlanDesk } from './plan-worker.ts';

/** Long enough that a number being typed is not planned digit by digit. */
const PAUSE_MS = 250;

export interface PlanState {
  /** The last set-up that was planned, with its plan. */
  done?: { setup: Setup; plan: Plan };
  /** True while `done` does not belong to the draft. */
  stale: boolean;
  faults: readonly Fault[];
  trouble?: string;
}

/** Plans the draft off the main thread; the previous answer stands, marked stale, until the next arrives. */
export function usePlan(draft: SetupDraft): PlanState {
  const desk = usePlanDesk();
  const [state, setState] = useState<PlanState>({ stale: true, faults: [] });
  const checked = useMemo(() => check(draft), [draft]);
  useEffect(() => {
    setState((now) => ({ ...now, stale: true, faults: checked.faults }));
    const setup = checked.setup;
    if (!setup) return;
    let current = true;
    const timer = setTimeout(async () => {
      try {
        const answer = await desk.current?.plan(setup);
        if (!current || !answer) return;
        if ('plan' in answer) setState({ done: { setup, plan: answer.plan }, stale: false, faults: [] });
        else if ('faults' in answer) setState((now) => ({ ...now, faults: answer.faults }));
        else setState((now) => ({ ...now, trouble: answer.trouble }));
      } catch (trouble) {
        if (current) setState((now) => ({ ...now, trouble: String(trouble) }));
      }
    }, PAUSE_MS);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [checked, desk]);
  return state;
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
