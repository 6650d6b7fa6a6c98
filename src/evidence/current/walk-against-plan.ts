/** A voltage walk beside the plan: onset and edges, each with the planned range. */
import { type Edge, edgeText } from '../walk.ts';
import type { CurrentSweep } from './voltage-sweep.ts';

export interface PlannedWindow {
  onset_V: Range;
  window_low_V: Range;
  window_high_V: Range;
}

interface Range {
  value: number;
  low: number;
  high: number;
}

export function againstPlan(
  planned: PlannedWindow,
  sweeps: readonly CurrentSweep[],
  voltage_at: 'supply' | 'tip' | 'not stated',
): string[] {
  const sweep = sweeps.find((s) => s.direction === 'up') ?? sweeps[0];
  if (!sweep) return [];
  const where =
    voltage_at === 'tip'
      ? ''
      : ' (the walk is at the supply, the plan at the tip: the liquid column takes its share)';
  const one = (name: string, found: Edge | null, plan: Range) => {
    if (found?.at_most_V == null) return [];
    const low = found.above_V ?? found.at_most_V;
    // The edge lies somewhere between two steps: it agrees where any of that lies in the planned range.
    const agrees = found.at_most_V >= plan.low && low <= plan.high;
    return [
      `${name}: read ${edgeText(found)}, planned ${Math.round(plan.value)} V (${Math.round(plan.low)} to ${Math.round(plan.high)}): ${agrees ? 'agrees' : 'does not agree'}${where}.`,
    ];
  };
  return [
    ...one('Onset', sweep.onset, planned.onset_V),
    ...one('Steady from', sweep.lower, planned.window_low_V),
    ...one('Steady up to', sweep.upper, planned.window_high_V),
  ];
}
