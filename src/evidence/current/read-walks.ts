/**
 * The walks of one trace from what a person gives: steps of the voltage (typed, a table, or the logged channel) and of the flow. One place for
 * command line and page: length of the windows, what is missing, surface tension and planned window from the plan.
 */
import { inputError } from '../../core/errors.ts';
import { median } from '../../core/numeric/robust.ts';
import type { Plan } from '../../core/plan/index.ts';
import { MN_M } from '../../core/units.ts';
import type { TraceHead } from '../../formats/trace/index.ts';
import type { CurrentReading } from './current-reading.ts';
import { type FlowWalk, readFlowWalk } from './flow-walk.ts';
import { flowSteps, typedMarks, voltageSteps } from './number-table.ts';
import { type ResistorReading, resistorReading } from './resistor.ts';
import type { TypedStep } from './voltage-spans.ts';
import { readVoltageWalk, type VoltageWalk } from './voltage-walk.ts';
import { withWalk } from './walk-events.ts';

export interface WalksTold {
  /** Steps, or 'channel' for the logged voltage. */
  voltage?: 'channel' | readonly TypedStep[] | undefined;
  voltage_at?: VoltageWalk['voltage_at'] | undefined;
  series_MOhm?: number | undefined;
  flow?: readonly FlowStep[] | undefined;
}

export interface FlowStep {
  flow_nL_min: number;
  time_s?: number;
  current_nA?: number;
}

export interface ResistorTold {
  resistor_MOhm?: number | undefined;
  /** The meter's own resistance beside it. */
  meter_MOhm?: number | undefined;
  capacitance_pF?: number | undefined;
}

export interface WalksRead {
  /** Its events are told with the walk. */
  reading: CurrentReading;
  walk?: VoltageWalk;
  flow_walk?: FlowWalk;
}

/** A step of a walk holds at least so many windows. */
const WINDOWS_PER_STEP = 8;

/** The word for the logged channel, marks such as '0=1500,10=1600', or the text of a table. */
export function voltageTold(text: string, name: string): 'channel' | TypedStep[] {
  return text.trim() === 'channel' ? 'channel' : voltageSteps(text, typedMarks(text) ? 'marks' : name);
}

export function flowTold(text: string, name: string): FlowStep[] {
  return flowSteps(text, typedMarks(text) ? 'marks' : name);
}

/** Windows short against the shortest step; undefined where the steps carry no times. */
export function windowOfWalks({ voltage, flow }: WalksTold): number | undefined {
  const steps: readonly { time_s?: number }[] =
    voltage !== undefined && voltage !== 'channel' ? voltage : (flow ?? []);
  const times = steps.flatMap((step) => step.time_s ?? []).sort((a, b) => a - b);
  const lengths = times
    .slice(1)
    .map((t, i) => t - times[i]!)
    .filter((length) => length > 0);
  return lengths.length > 0 ? Math.min(...lengths) / WINDOWS_PER_STEP : undefined;
}

export function readWalks(
  reading: CurrentReading,
  head: TraceHead,
  told: WalksTold,
  plan: Plan | undefined,
): WalksRead {
  const read: WalksRead = { reading };
  const { voltage, voltage_at, series_MOhm, flow } = told;
  if (voltage !== undefined) {
    if (voltage === 'channel' && !head.channels.some((channel) => channel.quantity === 'voltage'))
      throw inputError(
        'missing',
        'voltage of the walk',
        'the trace has no voltage channel',
        'a step table or seconds=volts with --walk',
      );
    const steps = voltage === 'channel' ? undefined : voltage;
    read.walk = readVoltageWalk(reading, { steps, voltage_at, series_MOhm, planned: plan });
    read.reading = withWalk(reading, read.walk);
  }
  if (flow !== undefined) read.flow_walk = readFlowWalk(flow, reading, plan && surfaceTensionOf(plan));
  return read;
}

export function surfaceTensionOf(plan: Plan): { value: number; low: number; high: number } {
  const { value, low, high } = plan.liquid.surface_tension_mN_m;
  return { value: value * MN_M, low: low * MN_M, high: high * MN_M };
}

/** The resistor the current is read through, with the meter beside it; undefined where none is given. */
export function resistorTold(told: ResistorTold, reading?: CurrentReading): ResistorReading | undefined {
  const { resistor_MOhm } = told;
  if (resistor_MOhm === undefined) return undefined;
  const levels = (reading?.windows ?? []).map((w) => Math.abs(w.level_nA));
  return resistorReading({
    ...told,
    resistor_MOhm,
    current_nA: levels.length > 0 ? median(levels) : undefined,
  });
}
