/**
 * One step of a voltage walk read: current, scatter and regime over the windows inside it. The first SETTLE of each step is left out (the
 * meter and the wetting follow the voltage late); a step of too few windows is left out whole and counted.
 */
import { median, quantile } from '../../core/numeric/robust.ts';
import type { CurrentReading, RegimeWindow } from './current-reading.ts';
import { likeliest, type Regime, type RegimeProbabilities } from './regimes.ts';
import { behindResistor } from './resistor.ts';
import { meanProbabilities, settledWindows } from './settled-windows.ts';
import { sameVoltage, type VoltageSpan } from './voltage-spans.ts';

export interface CurrentStep {
  voltage_V: number;
  /** When the voltage was set. */
  set_s: number;
  /** The part that was read, once it had settled. */
  from_s: number;
  to_s: number;
  direction: 'up' | 'down' | 'start';
  windows: number;
  /** Median current with the 10 to 90 % range of the windows. */
  level_nA: { value: number; low: number; high: number };
  /** Wander from window to window and inside them, over the level. */
  scatter: number;
  probabilities: RegimeProbabilities;
  regime: Regime;
  frequency_Hz: number | null;
  /** Number of jets by the staircase of the walk; null where it tells none. */
  jets: number | null;
}

const SETTLE = 0.2;

export interface StepsRead {
  steps: CurrentStep[];
  /** Steps that were too short. */
  short: number;
}

export function stepsRead(
  spans: readonly VoltageSpan[],
  reading: CurrentReading,
  leastWindows: number,
  series_MOhm = 0,
): StepsRead {
  const steps: CurrentStep[] = [];
  let short = 0;
  let before: number | undefined;
  for (const span of spans) {
    const inside = settledWindows(reading, span.from_s, span.to_s, SETTLE);
    if (inside.length < leastWindows) {
      short++;
      continue;
    }
    const direction =
      before === undefined || sameVoltage(before, span.voltage_V)
        ? 'start'
        : span.voltage_V > before
          ? 'up'
          : 'down';
    before = span.voltage_V;
    steps.push(stepOf(inside, span, direction, series_MOhm));
  }
  return { steps, short };
}

function stepOf(
  windows: readonly RegimeWindow[],
  span: VoltageSpan,
  direction: CurrentStep['direction'],
  series_MOhm: number,
): CurrentStep {
  const levels = windows.map((w) => w.level_nA);
  const value = median(levels);
  const probabilities = meanProbabilities(windows);
  const changes = levels.slice(1).map((x, i) => Math.abs(x - levels[i]!));
  const wander = changes.length > 0 ? median(changes) : 0;
  const inside = median(windows.map((w) => w.scatter_nA));
  const frequencies = windows.flatMap((w) => w.frequency_Hz ?? []);
  return {
    voltage_V: Math.round(behindResistor(span.voltage_V, value, series_MOhm)),
    set_s: span.from_s,
    from_s: windows[0]!.start_s,
    to_s: windows.at(-1)!.end_s,
    direction,
    windows: windows.length,
    level_nA: { value, low: quantile(levels, 0.1), high: quantile(levels, 0.9) },
    scatter: Math.hypot(wander, inside) / Math.max(Math.abs(value), 0.1),
    probabilities,
    regime: likeliest(probabilities),
    frequency_Hz: frequencies.length > windows.length / 2 ? median(frequencies) : null,
    jets: null,
  };
}
