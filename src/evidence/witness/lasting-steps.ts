/**
 * Which steps stand beside the falls and the drift of the same run: a step is none at the edge of a fall as deep, a shallow
 * fall beside a step is the foot of its saw tooth, and a drift made of a step is no drift.
 */
import type { RunEvent } from '../run-reading.ts';
import type { Span } from '../run-trust.ts';
import type { SprayFall } from './spray-falls.ts';
import type { SpraySeries } from './spray-series.ts';
import { stepEvents } from './step-events.ts';

/** A step is none at the edge of a fall as deep, nor at a bare start or a loss at the end. */
export function lastingSteps(
  series: SpraySeries,
  { group, silent }: { group: number; silent: readonly Span[] },
  falls: readonly SprayFall[],
): RunEvent[] {
  return stepEvents(series, group).filter(
    (step) =>
      !silent.some((span) => near(step, span.start_s, span.end_s)) &&
      !falls.some((fall) => beside(step, fall, series) && fall.size_log > FOOT_SHARE * sizeOf(step)),
  );
}

export function footOf(step: RunEvent, fall: SprayFall, series: SpraySeries): boolean {
  return beside(step, fall, series) && fall.size_log <= FOOT_SHARE * sizeOf(step);
}

function beside(step: RunEvent, fall: SprayFall, series: SpraySeries): boolean {
  return near(step, series.time_s[fall.first]!, series.time_s[fall.past - 1]!);
}

function near(step: RunEvent, start_s: number, end_s: number): boolean {
  return step.start_s < end_s + EDGE_S && start_s - EDGE_S < step.end_s;
}

function sizeOf(step: RunEvent): number {
  return step.depth === null ? FOOT_LEAST_LOG : -Math.log(1 - step.depth);
}

const EDGE_S = 10;
/** Share of a step beyond which a fall beside it is its own. Judgement: the foot of the saw tooth is half the step. */
const FOOT_SHARE = 0.6;
/** Taken for the size of a rise. */
const FOOT_LEAST_LOG = 0.3;
/** A step of at least this share of a drift within its time is what the drift is made of. Judgement. */
const EXPLAINED = 0.6;

export function explains(step: RunEvent, drift: RunEvent): boolean {
  return (
    step.depth !== null &&
    drift.depth !== null &&
    step.start_s < drift.end_s + EDGE_S &&
    drift.start_s - EDGE_S < step.end_s &&
    Math.log(1 - step.depth) <= EXPLAINED * Math.log(1 - drift.depth)
  );
}
