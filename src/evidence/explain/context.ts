/** What is known beside the run itself: earlier runs of the emitter, its plan, a current trace, frames. */
import type { Plan } from '../../core/plan/index.ts';
import type { Setup } from '../../core/setup.ts';
import type { RunSummary } from '../queue/run-summary.ts';
import type { RunReading } from '../run-reading.ts';

/** A run of the same emitter; `began` as ISO 8601, null where no file tells. */
export interface OlderRun {
  summary: RunSummary;
  began: string | null;
}

/** What a current trace says, from whatever reads it. */
export interface CurrentSeen {
  /** Regime in the words of the trace reader: 'steady', 'pulsating', 'dripping', 'several jets', 'discharge', 'no spray' … */
  regime: string;
  /** Belief in that word, 0 to 1. */
  probability: number;
  /** Mean current over the one the plan expects for a steady cone-jet. */
  multipleOfExpected?: number | undefined;
}

/** What microscope frames say: an answer to the catalogue's question about the tip. */
export interface FramesSeen {
  meniscus: string;
  probability: number;
}

export interface RunContext {
  reading: RunReading;
  /** Name of the run or reading, as it stands in sentences. */
  from: string;
  began?: string | null | undefined;
  /** Earlier runs of the same emitter, oldest first. */
  older?: readonly OlderRun[] | undefined;
}

export interface PlanSeen {
  plan: Plan;
  setup: Setup;
}
