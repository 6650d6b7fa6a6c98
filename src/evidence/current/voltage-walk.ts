/**
 * A voltage walk on a current trace: for each step of the voltage the current and the regime once it had settled, up and down kept
 * apart. From these: onset, edges of the steady window, hysteresis, the calmest steady step, the staircase of several jets. Voltages come from
 * a logged channel, a step table or typed marks. Breaks where steps are shorter than two windows (said, and left out).
 */
import type { Observation } from '../../core/window/index.ts';
import { sweepsOf } from '../walk.ts';
import type { CurrentReading } from './current-reading.ts';
import { currentText, regimeLabel } from './labels.ts';
import { spansOfChannel, spansOfTable, type TypedStep } from './voltage-spans.ts';
import { stepsRead } from './voltage-step.ts';
import { type CurrentSweep, judgedSweep } from './voltage-sweep.ts';
import { againstPlan, type PlannedWindow } from './walk-against-plan.ts';
import { observationsOf } from './walk-observations.ts';

export interface VoltageWalk {
  voltage_at: 'supply' | 'tip' | 'not stated';
  from: 'logged channel' | 'step table';
  sweeps: CurrentSweep[];
  /** Lower edge going up less the one going down [V], as the range its steps allow. */
  hysteresis_V: { low: number; high: number } | null;
  /** Rows for a plan's calibration. */
  observations: Observation[];
  sentences: string[];
  warnings: string[];
}

export interface VoltageWalkOptions {
  steps?: readonly TypedStep[] | undefined;
  voltage_at?: VoltageWalk['voltage_at'] | undefined;
  /** A resistor in series with the supply: each step's voltage is what it leaves, V − I R. */
  series_MOhm?: number | undefined;
  /** From the plan, for comparison [V at the tip]. */
  planned?: PlannedWindow | undefined;
}

/** Windows in a step of a table; a logged channel has told its steps by its own windows. */
const LEAST_WINDOWS = 2;
const LEAST_STEPS = 3;

export function readVoltageWalk(reading: CurrentReading, options: VoltageWalkOptions = {}): VoltageWalk {
  const voltage_at = options.voltage_at ?? 'not stated';
  const { steps: typed, series_MOhm, planned } = options;
  const spans = typed ? spansOfTable(typed, reading) : spansOfChannel(reading.windows);
  const { steps, short } = stepsRead(spans, reading, typed ? LEAST_WINDOWS : 1, series_MOhm);
  const warnings: string[] = [];
  if (short > 0)
    warnings.push(
      `${short} steps are shorter than two windows (${Number((2 * reading.window_s).toPrecision(2))} s) and were left out; --window makes windows shorter.`,
    );
  if (steps.length < LEAST_STEPS) warnings.push('Fewer than three steps: no walk can be read.');
  if (voltage_at === 'not stated')
    warnings.push(
      'Where the voltage was measured is not stated: a plan takes it as the supply; say supply or tip (--voltage-at).',
    );
  const sweeps =
    steps.length < 2
      ? []
      : // The step where the walk turns stands in both sweeps; each judges its own copy.
        sweepsOf(steps).map(({ direction, steps: own }) =>
          judgedSweep(
            direction,
            own.map((step) => ({ ...step })),
            reading,
          ),
        );
  const hysteresis_V = hysteresisOf(sweeps);
  const sentences = sweeps.flatMap((sweep) => sweep.sentences);
  if (hysteresis_V) sentences.push(hysteresisText(hysteresis_V));
  const best = sweeps[0]?.best;
  if (series_MOhm !== undefined && best)
    sentences.push(
      `The series resistor of ${series_MOhm} MΩ keeps ${Number((best.level_nA * series_MOhm * 1e-3).toPrecision(2))} V at ${currentText(best.level_nA)}: the voltages here are behind it.`,
    );
  if (planned) sentences.push(...againstPlan(planned, sweeps, voltage_at));
  if (!reading.decidability.decides && sweeps.some((s) => s.best))
    sentences.push(`'Steady' here means ${regimeLabel('steady', reading.decidability)}.`);
  return {
    voltage_at,
    from: typed ? 'step table' : 'logged channel',
    sweeps,
    hysteresis_V,
    observations: observationsOf(sweeps, voltage_at),
    sentences,
    warnings,
  };
}

function hysteresisOf(sweeps: readonly CurrentSweep[]): VoltageWalk['hysteresis_V'] {
  const up = sweeps.find((s) => s.direction === 'up')?.lower;
  const down = sweeps.find((s) => s.direction === 'down')?.lower;
  if (up?.at_most_V == null || down?.at_most_V == null || up.above_V === null || down.above_V === null)
    return null;
  return { low: Math.max(0, up.above_V - down.at_most_V), high: up.at_most_V - down.above_V };
}

function hysteresisText({ low, high }: { low: number; high: number }): string {
  if (high <= 0) return 'Hysteresis: none; the steady window begins no lower going down than going up.';
  return `Hysteresis: the steady window begins ${Math.round(low)} to ${Math.round(high)} V lower going down than going up: approach from above to stand lower.`;
}
