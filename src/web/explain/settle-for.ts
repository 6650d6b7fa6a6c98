/** What a settle session is begun for, where a cause of this explanation is cured by a voltage or a position. */
import type { Explained } from '../../evidence/explain/explain-run.ts';
import type { SettleBegin } from '../settle/settle-address.ts';
import type { ExplainState } from './explain-address.ts';

export function settleFor(state: ExplainState, explained: Explained, fault: string): SettleBegin {
  return {
    ...state,
    cause: fault,
    probability: explained.ranked.causes.find((cause) => cause.fault === fault)?.probability,
    emitter: state.emitter ?? explained.emitter ?? undefined,
  };
}
