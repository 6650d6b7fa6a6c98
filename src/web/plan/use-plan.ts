/** The plan of the draft, from the workers: the previous answer stands, marked, until the next arrives. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { setupFrom } from '../../contract/index.ts';
import { type Fault, InputError } from '../../core/errors.ts';
import type { GradientPlan } from '../../core/gradient/index.ts';
import type { GradientRow, MeniscusShapes } from '../../core/plan/index.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { Setup } from '../../core/setup.ts';
import type { SetupDraft } from './draft.ts';
import { type Asked, type LookNews, openPlanDesk, type PlanDesk, type PlanNews } from './plan-desk.ts';
import type { Seen } from './seen.ts';

export interface PlanDone {
  setup: Setup;
  plan: Plan;
  shapes: MeniscusShapes | undefined;
  /** Along the gradient, where there is one; stale: of earlier values, since it follows after the window. */
  along?: { gradient: GradientPlan; rows: readonly GradientRow[]; stale: boolean };
  /** The gradient's own answer is still to come, and the advice with it. */
  gradientLeft: boolean;
  /** Above 0: a first estimate, so many solves are still running. */
  solvesLeft: number;
}

/** How `done` stands to the values on the page. */
export type Standing = 'computing' | 'first estimate' | 'whole' | 'faulty';

export interface PlanState {
  /** The last set-up that was planned, with its plan. */
  done?: PlanDone;
  /** The draft as a set-up, where it has no faults: what can be drawn at once. */
  drawn?: Setup;
  standing: Standing;
  /** True while `done` is not yet the whole answer to the draft. */
  stale: boolean;
  faults: readonly Fault[];
  trouble?: string;
  /** The plan at the chosen composition; undefined until it is there. */
  look?: { plan: Plan; organic: number };
  planOther: PlanDesk['planOther'];
}

/** `organic` [%]: a composition of the gradient that is looked at; undefined: the set-up's own liquid. */
export function usePlan(draft: SetupDraft, seen: Seen, organic: number | undefined): PlanState {
  const [done, setDone] = useState<PlanDone & { asked: Asked }>();
  const [refused, setRefused] = useState<{ asked: Asked; faults: readonly Fault[]; trouble?: string }>();
  const [look, setLook] = useState<{ asked: Asked; organic: number; plan: Plan }>();
  const checked = useMemo(() => check(draft), [draft]);
  const asked = useMemo(
    () => (checked.setup === undefined ? undefined : { setup: checked.setup, seen }),
    [checked, seen],
  );
  const desk = useRef<PlanDesk | null>(null);
  useEffect(() => {
    const opened = openPlanDesk(
      (news) => {
        const { asked, answer } = news;
        if ('plan' in answer) setDone((before) => ({ asked, ...doneFrom(news, answer, before) }));
        else if ('faults' in answer) setRefused({ asked, faults: answer.faults });
        else setRefused({ asked, faults: [], trouble: answer.trouble });
      },
      ({ asked, organic, answer }: LookNews) => {
        if ('plan' in answer) setLook({ asked, organic, plan: answer.plan });
      },
      (asked, trouble) => setRefused({ asked, faults: [], trouble }),
    );
    desk.current = opened;
    return () => {
      desk.current = null;
      opened.close();
    };
  }, []);
  useEffect(() => desk.current?.want(asked), [asked]);
  const whole = done !== undefined && done.asked === asked && done.solvesLeft === 0;
  useEffect(() => {
    if (whole && asked !== undefined && organic !== undefined) desk.current?.lookAt(asked, organic);
  }, [whole, asked, organic]);
  const planOther = useMemo<PlanDesk['planOther']>(
    () => (setup) =>
      desk.current?.planOther(setup) ?? Promise.resolve({ trouble: 'the page is being closed' }),
    [],
  );
  const mine = refused !== undefined && refused.asked === asked ? refused : undefined;
  const faults = checked.faults.length > 0 ? checked.faults : (mine?.faults ?? []);
  const standing = standingOf(done, asked, faults.length > 0);
  const drawn = checked.setup ?? done?.setup;
  return {
    ...(done === undefined ? {} : { done }),
    ...(drawn === undefined ? {} : { drawn }),
    standing,
    stale: standing !== 'whole',
    faults,
    ...(mine?.trouble === undefined ? {} : { trouble: mine.trouble }),
    ...(look !== undefined && look.asked === asked && organic !== undefined ? { look } : {}),
    planOther,
  };
}

function standingOf(
  done: (PlanDone & { asked: Asked }) | undefined,
  asked: Asked | undefined,
  faulty: boolean,
): Standing {
  if (faulty) return 'faulty';
  if (done === undefined || done.asked !== asked) return 'computing';
  return done.solvesLeft > 0 ? 'first estimate' : 'whole';
}

function doneFrom(
  { asked, solvesLeft, withGradient }: PlanNews,
  { plan, shapes }: { plan: Plan; shapes: MeniscusShapes | undefined },
  before: PlanDone | undefined,
): PlanDone {
  const own =
    plan.gradient === undefined
      ? undefined
      : { gradient: plan.gradient, rows: plan.along_gradient, stale: false };
  const kept = withGradient || before?.along === undefined ? undefined : { ...before.along, stale: true };
  const along = own ?? kept;
  return {
    setup: asked.setup,
    plan,
    shapes,
    ...(along === undefined ? {} : { along }),
    gradientLeft: !withGradient,
    solvesLeft,
  };
}

function check(draft: SetupDraft): { setup?: Setup; faults: readonly Fault[] } {
  try {
    return { setup: setupFrom(draft), faults: [] };
  } catch (trouble) {
    if (trouble instanceof InputError) return { faults: trouble.faults };
    throw trouble;
  }
}
