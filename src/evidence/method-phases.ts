/**
 * The phases of the method in the time of a run: injection and dead time, elution, wash, re-equilibration. From the
 * gradient table of a set-up, moved to the tip by the delay of the pieces between pump and tip; else stretches of another
 * flow from a flow trace in the file.
 * Rests on: the table's zero is the run's zero, and the flow is the one stated. Where the pieces are not stated the table
 * stands unmoved and that is said. Breaks where the flow changes along the gradient. A lower flow inside a run is no phase but
 * may be a pump that fell short: it is left in the judgement.
 */

import { gradientParts } from '../core/gradient/gradient-parts.ts';
import { type GradientPart, tipComposition, tipDelay } from '../core/gradient/index.ts';
import { median } from '../core/numeric/robust.ts';
import type { GradientSpec } from '../core/setup.ts';
import type { RunRecord } from '../formats/run-record.ts';
import type { MethodPhase } from './run-reading.ts';

export interface Method {
  /** What the phases were found from, for the reading's sentences. */
  from: string;
  /** The same in three words. */
  by: 'gradient table' | 'flow trace';
  /** At the tip, in the time of the run; the last one may go on past its end. */
  phases: MethodPhase[];
}

/** Times at which the composition at the tip is looked at [min]. */
const GRID_MIN = 0.05;
const MOST_TIMES = 20_000;
/** Smearings after which a composition has passed the tip. */
const PASSED_SD = 3;
/** A flow that differs by more than this share from the usual one, for at least so long, is another flow. Judgement. */
const OTHER_FLOW = 0.2;
const OTHER_FLOW_S = 20;
const LEAST_POINTS = 20;
/** Gaps up to this between such stretches are one stretch [s]. */
const JOINED_S = 10;

const NAMES: Record<GradientPart, MethodPhase['name']> = {
  start: 'injection and dead time',
  elution: 'elution',
  wash: 'wash',
  after: 're-equilibration',
};

/** `flow_nL_min` turns the volumes between pump and tip into the delay; without either the table is not moved. */
export function methodOfGradient(
  gradient: GradientSpec,
  flow_nL_min: number | undefined,
  setup_name?: string,
): Method {
  const known = gradient.volumes !== undefined && flow_nL_min !== undefined;
  const delay = known ? tipDelay(gradient.volumes!, flow_nL_min!) : null;
  const delay_min = delay?.delay_min ?? 0;
  const end_min = gradient.table.at(-1)!.time_min + delay_min + PASSED_SD * (delay?.smearing_min ?? 0);
  const organicAt = tipComposition(gradient, delay, end_min);
  const step = Math.max(GRID_MIN, end_min / MOST_TIMES);
  const times = Array.from({ length: Math.floor(end_min / step) + 1 }, (_, k) => k * step);
  const { elution, wash } = gradientParts(gradient, delay_min, times, organicAt);
  const phases: MethodPhase[] = [];
  const add = (part: GradientPart, from_min: number, to_min: number): void => {
    if (to_min > from_min) phases.push({ name: NAMES[part], start_s: 60 * from_min, end_s: 60 * to_min });
  };
  add('start', 0, elution.start_min);
  // A table without a wash leaves the minutes up to its fall to the elution.
  const last_organic = organicAt(elution.end_min);
  const fallen = times.find(
    (time) => time > elution.end_min && organicAt(time) < last_organic - FALLEN_PERCENT,
  );
  const elution_end = wash?.start_min ?? fallen ?? end_min;
  add('elution', elution.start_min, elution_end);
  if (wash) add('wash', elution_end, wash.end_min);
  const back = wash ? times.find((time) => time > wash.end_min && organicAt(time) < last_organic) : fallen;
  if (back !== undefined)
    phases.push({
      name: NAMES.after,
      start_s: 60 * (wash?.end_min ?? back),
      end_s: Number.POSITIVE_INFINITY,
    });
  return {
    by: 'gradient table',
    from: `the gradient table of the set-up${setup_name ? ` "${setup_name}"` : ''}, ${
      delay === null
        ? 'not moved: the volumes between pump and tip are not stated'
        : `moved by the ${delay_min.toFixed(1)} min (${delay.delay_low_min.toFixed(1)} to ${delay.delay_high_min.toFixed(1)}) from pump to tip`
    }`,
    phases,
  };
}

/**
 * The phases that a run with scans at these times meets, cut to it: a run that begins in the middle of its method has nothing
 * before. In a run of one scan such a phase has no length.
 */
export function phasesWithin(method: Method, time_s: readonly number[]): MethodPhase[] {
  const first_s = time_s[0] ?? 0;
  const last_s = time_s.at(-1) ?? 0;
  return method.phases
    .filter(({ start_s, end_s }) => start_s < last_s && end_s > first_s)
    .map((phase) => ({
      ...phase,
      start_s: Math.max(first_s, phase.start_s),
      end_s: Math.min(last_s, phase.end_s),
    }));
}

/** Less organic than the end of the elution by this much is re-equilibration [% organic], as for the wash. */
const FALLEN_PERCENT = 1;

/** Stretches of another flow, as loading and washing have; undefined where the file holds no flow trace or one flow only. */
export function methodOfTraces(record: RunRecord): Method | undefined {
  const flow = record.traces.find(
    ({ name, value }) => name.startsWith('flow') && value.length >= LEAST_POINTS,
  );
  if (!flow) return undefined;
  const usual = median(flow.value);
  if (!(usual > 0)) return undefined;
  const phases: MethodPhase[] = [];
  for (let i = 0; i < flow.value.length; i++) {
    if (Math.abs(flow.value[i]! / usual - 1) <= OTHER_FLOW) continue;
    const start_s = flow.time_s[i]!;
    while (i + 1 < flow.value.length && Math.abs(flow.value[i + 1]! / usual - 1) > OTHER_FLOW) i++;
    const end_s = flow.time_s[i]!;
    const before = phases.at(-1);
    if (before && start_s - before.end_s <= JOINED_S) before.end_s = end_s;
    else phases.push({ name: 'other flow', start_s, end_s });
  }
  const first_s = flow.time_s[0]!;
  const last_s = flow.time_s.at(-1)!;
  const lasting = phases.filter(({ start_s, end_s }) => {
    if (end_s - start_s < OTHER_FLOW_S) return false;
    const inside = median(
      flow.value.filter((_, i) => flow.time_s[i]! >= start_s && flow.time_s[i]! <= end_s),
    );
    return inside > usual || start_s - first_s <= JOINED_S || last_s - end_s <= JOINED_S;
  });
  if (lasting.length === 0) return undefined;
  return {
    by: 'flow trace',
    from: `the flow trace in the file: minutes whose flow differs by more than ${100 * OTHER_FLOW} % from the usual ${Number(usual.toPrecision(3))} ${flow.unit}, at the pump, not moved to the tip`,
    phases: lasting,
  };
}
