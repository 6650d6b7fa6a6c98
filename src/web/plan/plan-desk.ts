/**
 * Three workers behind the page. A new shape: two solve its equilibria and the first of them plans, at once from two of five
 * (a first estimate), then from all. The third follows with the gradient, which takes half a second, and plans other set-ups.
 * Only the latest draft is pursued to its end; a first estimate of an earlier one is still handed on while a shape is dragged.
 */
import { wrap } from 'comlink';
import { setupAtOrganic } from '../../core/plan/gradient.ts';
import { tipGeometryOf } from '../../core/plan/index.ts';
import type { Setup } from '../../core/setup.ts';
import { latestOnly } from './latest-only.ts';
import type { PlanAnswer, PlanWork } from './plan-worker.ts';
import { type Seen, UNSEEN } from './seen.ts';
import { type SolveTask, tipAnswers } from './tip-answers.ts';

/** What is asked; its identity tells whether an answer belongs to the values on the page. */
export interface Asked {
  setup: Setup;
  seen: Seen;
}

export interface PlanNews {
  asked: Asked;
  answer: PlanAnswer;
  /** Equilibria still running: above 0 the answer is a first estimate. */
  solvesLeft: number;
  /** The gradient, where there is one, is in this answer. */
  withGradient: boolean;
}

/** The same set-up at one composition of its gradient. */
export interface LookNews {
  asked: Asked;
  organic: number;
  answer: PlanAnswer;
}

export interface PlanDesk {
  /** The latest values; undefined while they have faults. */
  want: (asked: Asked | undefined) => void;
  lookAt: (asked: Asked, organic: number) => void;
  /** Any other set-up, apart from the page's own. */
  planOther: (setup: Setup) => Promise<PlanAnswer>;
  close: () => void;
}

export function openPlanDesk(
  onNews: (news: PlanNews) => void,
  onLook: (news: LookNews) => void,
  onTrouble: (asked: Asked, trouble: string) => void,
): PlanDesk {
  const workers = Array.from(
    { length: 3 },
    () => new Worker(new URL('./plan-worker.ts', import.meta.url), { type: 'module' }),
  );
  const [front, helper, later] = workers.map((worker) => wrap<PlanWork>(worker));
  if (front === undefined || helper === undefined || later === undefined)
    throw new Error('missing plan workers');
  const solveOn =
    (worker: typeof front): SolveTask =>
    (geometry, task) =>
      worker.solve(geometry, task);
  const tips = tipAnswers(solveOn(front), solveOn(helper));
  let latest: Asked | undefined;
  const guarded = (asked: Asked, work: () => Promise<void>) =>
    work().catch((trouble: unknown) => onTrouble(asked, String(trouble)));

  const solvedOf = (setup: Setup, complete: boolean) => ({
    answers: tips.of(tipGeometryOf(setup)),
    complete,
  });
  const gradient = latestOnly((asked: Asked) =>
    guarded(asked, async () => {
      if (latest !== asked) return;
      const answer = await later.plan(asked.setup, asked.seen, solvedOf(asked.setup, true));
      if (latest === asked) onNews({ asked, answer, solvesLeft: 0, withGradient: true });
    }),
  );
  const pursue = latestOnly((asked: Asked | undefined) =>
    asked === undefined ? Promise.resolve() : guarded(asked, () => planOne(asked)),
  );
  async function planOne(asked: Asked): Promise<void> {
    const wanted = () => latest === asked;
    const { gradient: _gradient, ...window } = asked.setup;
    const planned = async (solvesLeft: number) => {
      const solved = solvedOf(window, solvesLeft === 0);
      const answer = await front!.plan(window, asked.seen, solved);
      onNews({ asked, answer, solvesLeft, withGradient: asked.setup.gradient === undefined });
    };
    if (!(await tips.complete(tipGeometryOf(window), wanted, planned)) || !wanted()) return;
    await planned(0);
    if (asked.setup.gradient !== undefined && wanted()) gradient(asked);
  }
  const look = latestOnly(({ asked, organic }: { asked: Asked; organic: number }) =>
    guarded(asked, async () => {
      if (asked.setup.gradient === undefined) return;
      const setup = setupAtOrganic(asked.setup, asked.setup.gradient, organic);
      onLook({
        asked,
        organic,
        answer: await front.plan(setup, asked.seen, solvedOf(setup, true)),
      });
    }),
  );
  return {
    want: (asked) => {
      latest = asked;
      pursue(asked);
    },
    lookAt: (asked, organic) => look({ asked, organic }),
    planOther: (setup) => later.plan(setup, UNSEEN),
    close: () => {
      latest = undefined;
      for (const worker of workers) worker.terminate();
    },
  };
}
