/** Under the picture: what to do next in one sentence, the caution of the voltage that is looked at, what limits the plan. */
import { FIRST_TASKS } from '../../core/window/index.ts';
import { given } from '../words.ts';
import { voltageCaution } from './advice.ts';
import type { PlanState } from './use-plan.ts';

export function NextSentence({ state, volts }: { state: PlanState; volts: number }) {
  const { done, standing } = state;
  const caution = done && voltageCaution(state.look?.plan ?? done.plan, volts);
  return (
    <>
      <div aria-live="polite">
        {done && !state.stale ? (
          <p className="next">{done.plan.electric_state.sentence}</p>
        ) : (
          <p className="next stale">{waitingWords(state)}</p>
        )}
      </div>
      {done && (done.plan.cautions.length > 0 || caution !== undefined) && (
        <p data-caution={caution === undefined ? 'general' : 'voltage'}>
          <strong>High voltage:</strong>{' '}
          {caution !== undefined && state.look && `at ${given(state.look.organic)} % organic: `}
          {caution}{' '}
          <a className="target" href="#cautions">
            before you touch anything
          </a>
        </p>
      )}
      {done && (
        <p className={standing === 'whole' ? undefined : 'stale'}>
          <strong>Limited by:</strong> {done.plan.limited_by}
        </p>
      )}
    </>
  );
}

export function waitingWords({ done, standing }: Pick<PlanState, 'done' | 'standing'>): string {
  if (standing === 'faulty')
    return done
      ? 'The picture and numbers belong to the last set-up without faults.'
      : 'No picture yet: the set-up has values that need another look.';
  if (done === undefined) return 'Computing the first plan.';
  if (standing === 'first estimate') return firstWords(done.solvesLeft);
  return 'Computing; the numbers belong to the previous values.';
}

export function firstWords(solvesLeft: number): string {
  return `First estimate of onset and window, from ${FIRST_TASKS} of ${FIRST_TASKS + solvesLeft} solves; the others are on their way.`;
}
