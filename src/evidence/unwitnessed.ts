/**
 * Falls that the level alone shows, where no background ions answer for it: the shallow ones, and those that last as long
 * as a pause between two elution peaks, are believed less.
 */
import type { RunEvent } from './run-reading.ts';

/** Judgement: the surrogate of such a run shows many. */
const UNWITNESSED = { depth: 0.85, doubt: 0.35 };
const PAUSE = { depth: 0.93, length_s: 15, doubt: 0.5 };

export function unwitnessed(event: RunEvent): RunEvent {
  if (event.depth === null) return event;
  const pause = event.end_s - event.start_s >= PAUSE.length_s;
  const limit = pause && event.kind !== 'level lost' ? PAUSE : UNWITNESSED;
  if (event.depth >= limit.depth) return event;
  return {
    ...event,
    confidence: Math.round(100 * Math.max(0.05, event.confidence - limit.doubt)) / 100,
    confidence_basis: `${event.confidence_basis}; the peaks cannot follow the spray here`,
  };
}
