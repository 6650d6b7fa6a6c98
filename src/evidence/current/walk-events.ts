/**
 * The events of a trace once its voltage walk is known. A step of the current at a step of the voltage holds the rise of the jet with the voltage,
 * so the plain reading calls it 'by no square root'; here it is told with its voltages and, where the number of jets changed, with
 * the staircase's count against one jet at that voltage.
 */
import type { CurrentEvent, CurrentReading } from './current-reading.ts';
import { currentText, regimeName } from './labels.ts';
import type { CurrentStep } from './voltage-step.ts';
import type { VoltageWalk } from './voltage-walk.ts';

/** The reading with the steps of its level told by the walk. */
export function withWalk(reading: CurrentReading, walk: VoltageWalk): CurrentReading {
  const steps = walkSteps(walk);
  return { ...reading, events: reading.events.map((event) => told(event, steps, reading.window_s)) };
}

/** Each step once, in order of time: the one where the walk turns stands in two sweeps. */
export function walkSteps({ sweeps }: VoltageWalk): CurrentStep[] {
  const once = new Map(sweeps.flatMap((sweep) => sweep.steps).map((step) => [step.from_s, step]));
  return [...once.values()].sort((a, b) => a.from_s - b.from_s);
}

function told(event: CurrentEvent, steps: readonly CurrentStep[], window_s: number): CurrentEvent {
  if (event.before_nA === null || event.after_nA === null || !/^(step|creep) /.test(event.kind)) return event;
  const next = steps.findIndex((step) => step.to_s > event.start_s);
  const after = steps[next];
  // Inside a step, past its first window, the voltage stood still: the change is the spray's own.
  if (!after || event.start_s > after.from_s + window_s) return event;
  const before = steps[next - 1];
  if (!before || before.voltage_V === after.voltage_V) return event;
  const [from, to] = [currentText(event.before_nA), currentText(event.after_nA)];
  return {
    ...event,
    sentence: `${from} to ${to}, with the voltage (${before.voltage_V} to ${after.voltage_V} V): ${changeText(before, after)}`,
  };
}

function changeText(before: CurrentStep, after: CurrentStep): string {
  const jets = (step: CurrentStep) => (step.jets === 1 ? 'one jet' : `${step.jets} jets`);
  if (before.jets !== null && after.jets !== null)
    return before.jets === after.jets
      ? `still ${jets(after)}; its current follows the voltage.`
      : `from ${jets(before)} to ${jets(after)}, by the square root against one jet at each voltage.`;
  return `from ${regimeName(before.regime)} to ${regimeName(after.regime)}.`;
}
