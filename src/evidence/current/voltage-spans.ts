/**
 * The steps of a voltage walk as spans of time: from a step table or typed marks, or found in a logged voltage channel, where
 * voltages closer than supply noise and read-back are one step. A window that holds the change itself reads a voltage in between: it is no step.
 */
import { median } from '../../core/numeric/robust.ts';
import type { CurrentReading, RegimeWindow } from './current-reading.ts';

export interface VoltageSpan {
  from_s: number;
  to_s: number;
  voltage_V: number;
}

export interface TypedStep {
  time_s: number;
  voltage_V: number;
}

/** Voltages that differ by less are one step: supply noise and read-back. */
const SAME_V = 3;
const SAME_SHARE = 0.004;
/** A span shorter than this share of its neighbours, with a voltage between theirs, is a change and no step. */
const CHANGE_SHARE = 0.3;

export function spansOfTable(steps: readonly TypedStep[], reading: CurrentReading): VoltageSpan[] {
  const ordered = [...steps].sort((a, b) => a.time_s - b.time_s);
  return ordered.map((step, i) => ({
    from_s: step.time_s,
    to_s: ordered[i + 1]?.time_s ?? reading.end_s,
    voltage_V: Math.abs(step.voltage_V),
  }));
}

export function spansOfChannel(windows: readonly RegimeWindow[]): VoltageSpan[] {
  const spans: VoltageSpan[] = [];
  let inside: number[] = [];
  for (const w of windows) {
    if (w.voltage_V === null) continue;
    const voltage = Math.abs(w.voltage_V);
    const open = spans.at(-1);
    if (open && sameVoltage(open.voltage_V, voltage)) {
      inside.push(voltage);
      open.to_s = w.end_s;
      open.voltage_V = median(inside);
    } else {
      inside = [voltage];
      spans.push({ from_s: w.start_s, to_s: w.end_s, voltage_V: voltage });
    }
  }
  return spans.filter((span, i) => {
    const a = spans[i - 1];
    const b = spans[i + 1];
    return !(
      a &&
      b &&
      lengthOf(span) < CHANGE_SHARE * Math.min(lengthOf(a), lengthOf(b)) &&
      between(span.voltage_V, a.voltage_V, b.voltage_V)
    );
  });
}

export function sameVoltage(a: number, b: number): boolean {
  return Math.abs(a - b) <= Math.max(SAME_V, SAME_SHARE * a);
}

function lengthOf({ from_s, to_s }: VoltageSpan): number {
  return to_s - from_s;
}

function between(x: number, a: number, b: number): boolean {
  return x > Math.min(a, b) && x < Math.max(a, b);
}
