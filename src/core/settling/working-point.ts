/** The working point of an emitter as a document: where it stands, its window and margins, when it was found, and what proves it. */
import { inputError } from '../errors.ts';
import type { LiquidSpec, Setup } from '../setup.ts';
import type { Observation } from '../window/index.ts';
import { type HandOver, handOver } from './hand-over.ts';
import { notAbove_V } from './limits.ts';
import { figure, pointWords } from './next-move.ts';
import type { Axis, Recommendation, SettleSession } from './session.ts';
import {
  type ProofOutcome,
  proofOutcome,
  proofWords,
  reasonWords,
  type SettleProof,
  type SettleReason,
} from './story.ts';

export interface WorkingPoint extends Recommendation {
  name: string;
  emitter: string | null;
  instrument: string | null;
  /** When the last reading of the session was taken, ISO 8601, UTC. */
  date: string;
  invented: boolean;
  polarity: 'positive' | 'negative';
  /** Absent where no set-up was given. */
  liquid?: LiquidSpec;
  flow_nL_min: number | null;
  /** What the session moved; the others stand where the session began. */
  moved: Axis[];
  /** Supply voltages that were read steady, and what no raise may pass. */
  window: { steady_from_V: number | null; steady_to_V: number | null; not_above_V: number };
  search_done: boolean;
  readings: number;
  /** Where the session stands: its id on the bench or its file's name. */
  session: string;
  because: (SettleReason & { sentence: string }) | null;
  /** `none` where no reading at the working point was given. */
  proof: { outcome: ProofOutcome | 'none'; sentences: string[]; readings: SettleProof[] };
  /** Rows of `steadycone plan --observe`. */
  observations: Observation[];
}

export interface PointFacts {
  session: string;
  date: string;
  setup?: Setup | undefined;
}

/** Throws where no reading was taken: there is no working point then. */
export function workingPoint(
  session: SettleSession,
  { session: where, date, setup }: PointFacts,
  over: HandOver = handOver(session),
): WorkingPoint {
  const { best } = over.advice;
  if (best === undefined)
    throw inputError('missing', 'readings', '', 'one reading or more; without one there is no working point');
  const { because, proofs = [] } = session;
  const last = proofs.at(-1);
  return {
    name: over.name,
    emitter: session.emitter ?? null,
    instrument: session.instrument ?? null,
    date,
    invented: over.invented,
    polarity: session.polarity,
    ...(setup === undefined ? {} : { liquid: setup.liquid }),
    flow_nL_min: session.flow_nL_min ?? null,
    ...best,
    moved: Object.keys(session.axes) as Axis[],
    window: {
      steady_from_V: over.steady_from_V ?? null,
      steady_to_V: over.steady_to_V ?? null,
      not_above_V: notAbove_V(session),
    },
    search_done: over.advice.kind === 'done',
    readings: over.readings,
    session: where,
    because: because === undefined ? null : { ...because, sentence: reasonWords(because) },
    proof: {
      outcome: last === undefined ? 'none' : proofOutcome(because?.before, last),
      sentences: proofs.map((proof) => proofWords(because?.before, proof)),
      readings: proofs,
    },
    observations: over.observations,
  };
}

/** One line for a list: where, of which emitter, how far it is proven. */
export function workingPointTitle(point: WorkingPoint): string {
  const axes = Object.fromEntries(point.moved.map((axis) => [axis, true]));
  const where = pointWords({ axes }, point.at);
  const proven: Record<WorkingPoint['proof']['outcome'], string> = {
    better: 'proven better',
    'not better': 'the proof failed',
    'cannot tell': 'read again, nothing to compare',
    none: 'not proven yet',
  };
  const { steady_from_V: from, steady_to_V: to } = point.window;
  const window = from === null || to === null ? '' : `; steady ${figure(from)} to ${figure(to)} V`;
  const done = point.search_done ? '' : '; the search is not done';
  return `${point.emitter ?? point.name}: ${where}${window}${done}; ${proven[point.proof.outcome]}`;
}
