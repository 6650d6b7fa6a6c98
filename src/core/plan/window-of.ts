/** The window of one set-up as the plan states it: edges as estimates, probability over voltage, the best point. */
import { type Estimate, estimate } from '../estimate.ts';
import type { Setup } from '../setup.ts';
import { SOURCES } from '../sources.ts';
import {
  type Belief,
  bestVoltage,
  voltageGrid,
  type WindowChances,
  type WindowDraws,
  windowChances,
  windowDraws,
} from '../window/index.ts';
import { type Condition, MOST_STATIC_PRESSURE, obliqueWords } from './condition.ts';
import { fromDraws, fromOpenDraws } from './from-draws.ts';
import type { HeldPressure } from './held-pressure.ts';

export interface PlanWindow extends WindowChances {
  best_V: number;
  best_probability: number;
  start_of_steady_V: Estimate;
  tilt_V: Estimate;
  several_jets_V: Estimate;
  /** Null where no discharge is expected at any voltage shown. */
  discharge_V: Estimate | null;
  /** Down to where a standing cone-jet survives a lowered voltage. */
  returns_down_to_V: Estimate;
}

export interface WindowNumbers {
  draws: WindowDraws;
  onset_V: Estimate;
  advised_V: Estimate;
  window: PlanWindow;
}

export function windowOf(
  setup: Setup,
  condition: Condition,
  belief: Belief,
  held: HeldPressure | undefined,
): WindowNumbers {
  const draws = windowDraws(belief, condition);
  const { solved } = condition.tip;
  const oblique = obliqueWords(setup);
  const note =
    held?.verdict === 'no equilibrium'
      ? `no equilibrium at this feed pressure: the numbers are those of ${MOST_STATIC_PRESSURE} γ/a, the most that is given to a static meniscus here`
      : solved.kind === 'onset'
        ? oblique
        : `${solved.kind}: ${solved.reason}; the closed formula stands in${oblique === undefined ? '' : `; ${oblique}`}`;
  const seen =
    belief.observations > 0
      ? `, calibrated by ${belief.observations} observation${belief.observations > 1 ? 's' : ''}`
      : '';
  const onset = fromDraws(
    draws.onset_V,
    {
      basis: `equilibrium of the pinned meniscus up to its turning point; range over contact line, feed pressure, inlet, geometry and liquid${seen}`,
      sources: [SOURCES.meniscus, SOURCES.taylor1964, SOURCES.windowPriors],
      note,
    },
    condition.liquid.surface_tension_mN_m,
  );
  const onset_V = note === undefined ? onset : { ...onset, valid: false };
  const edge = (values: Float64Array, what: string): Estimate =>
    fromDraws(values, { basis: `judgement: ${what}${seen}`, sources: [SOURCES.windowRatios] }, onset_V);
  const chances = windowChances(draws, voltageGrid(draws));
  const best = bestVoltage(chances);
  const middle = draws.steady_from_V.map((low, i) =>
    Math.sqrt(low * Math.min(draws.tilt_from_V[i]!, draws.discharge_from_V[i]!)),
  );
  const around = fromDraws(middle, { basis: '', sources: [] });
  const advised_V = {
    ...estimate(best.voltage_V, Math.min(around.low, best.voltage_V), Math.max(around.high, best.voltage_V), {
      basis: `the voltage at which most draws stand in a steady cone-jet (${Math.round(100 * best.probability)} %); range of the draws' own middles`,
      sources: [SOURCES.windowRatios, SOURCES.meniscus],
    }),
    valid: onset_V.valid,
  };
  return {
    draws,
    onset_V,
    advised_V,
    window: {
      ...chances,
      best_V: best.voltage_V,
      best_probability: best.probability,
      start_of_steady_V: edge(draws.steady_from_V, "steady from 1.03 to 1.3 times the tip's onset"),
      tilt_V: edge(draws.tilt_from_V, 'tilt between the steady edge and several jets'),
      several_jets_V: edge(draws.several_from_V, "several jets from 1.2 to 2.0 times the tip's onset"),
      discharge_V: fromOpenDraws(draws.discharge_from_V, {
        basis:
          'ionisation integral ahead of the cone, or a spark across the gap; an estimate, weakly known in negative polarity',
        sources: [SOURCES.corona, SOURCES.spark],
      }),
      returns_down_to_V: edge(
        draws.steady_down_to_V,
        'a standing cone-jet survives 5 to 15 % below its forming edge (common practice, no source)',
      ),
    },
  };
}
