/** What calibrates the plan: observations, and whether the plan is for the emitter they were made on or for a sibling. */
import type { Observation } from '../../core/window/index.ts';

export interface Seen {
  observations: readonly Observation[];
  sibling: boolean;
}

export const UNSEEN: Seen = { observations: [], sibling: false };
