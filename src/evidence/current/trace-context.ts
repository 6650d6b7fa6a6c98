/** What the file, the person and the plan say about a trace, gathered for its reading: one place for command line and page. */
import type { Plan } from '../../core/plan/index.ts';
import { type Bandwidth, bandwidthOfResistor, givenBandwidth } from '../../core/signal/index.ts';
import type { TraceEnd, TraceHead } from '../../formats/trace/index.ts';
import { expectedCurrent, expectedPulsation } from './compare-plan.ts';
import type { ReadCurrentOptions } from './read-current.ts';

export interface TraceTold {
  bandwidth_Hz?: number | undefined;
  resistor_MOhm?: number | undefined;
  capacitance_pF?: number | undefined;
  /** The person's own steady reading on this emitter. */
  steady_nA?: number | undefined;
  flow_off_nA?: number | undefined;
}

export function traceContext(
  head: TraceHead,
  end: TraceEnd,
  told: TraceTold,
  plan: Plan | undefined,
): ReadCurrentOptions {
  const warnings = [...head.notes, ...end.warnings];
  if (end.bad_lines > 0)
    warnings.push(
      `${end.bad_lines === 1 ? 'One line' : `${end.bad_lines} lines`} could not be read (line ${end.first_bad_line?.line}${end.bad_lines === 1 ? '' : ' first'}: "${end.first_bad_line?.text}"); each counts as a sample without a number.`,
    );
  if (end.cut_short) warnings.push(`The file is cut short: ${end.cut_short}.`);
  const options: ReadCurrentOptions = {
    unit: head.channels.find((c) => c.quantity === 'current')?.unit,
    rate_from: head.rate_from,
    invented: head.invented,
    bandwidth: bandwidthTold(head, told),
    flow_off_nA: told.flow_off_nA,
    warnings,
  };
  if (plan) {
    options.expected = expectedCurrent(plan, told.steady_nA);
    options.pulsation_Hz = expectedPulsation(plan);
  }
  return options;
}

function bandwidthTold(head: TraceHead, told: TraceTold): Bandwidth | undefined {
  if (told.bandwidth_Hz !== undefined) return givenBandwidth(told.bandwidth_Hz, 'given');
  if (told.resistor_MOhm !== undefined && told.capacitance_pF !== undefined)
    return bandwidthOfResistor(told.resistor_MOhm, told.capacitance_pF);
  if (head.bandwidth_Hz !== undefined) return givenBandwidth(head.bandwidth_Hz, 'sidecar');
  return undefined;
}
