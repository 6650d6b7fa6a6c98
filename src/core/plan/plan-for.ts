/**
 * The plan of one set-up: liquid → meniscus and window → current, jet, droplet → tip voltage and ohmic drop together, then
 * the same along the gradient. Each step is a model of its own room; here they meet, ranges are carried through, and the
 * limits are put into words. With observations the unknowns are updated first.
 */
import { type Estimate, estimate } from '../estimate.ts';
import { electrolysis } from '../feed/index.ts';
import { alongGradient, type GradientPlan, type SprayState } from '../gradient/index.ts';
import { stateShares, supplyEdges } from '../gradient/supply-edges.ts';
import { type LiquidProperties, liquidProperties } from '../liquid/index.ts';
import type { Setup } from '../setup.ts';
import { SOURCES } from '../sources.ts';
import { BAR, MM, NA, NL_MIN, UM } from '../units.ts';
import {
  type Belief,
  conductivityFactor,
  factorOf,
  type Observation,
  onsetClosed,
  priorBelief,
  sibling,
  type WindowDraws,
  windowDraws,
} from '../window/index.ts';
import { adviceWithheld, gradientWithheld, HIGH_SUPPLY_V } from './advice-withheld.ts';
import { belowMinimum } from './below-minimum.ts';
import { beliefAfter, calibrationOf } from './calibration.ts';
import { checkSetup } from './check-setup.ts';
import { type Condition, conditionOf } from './condition.ts';
import { figure } from './figure.ts';
import { staticFeedPressure } from './flow.ts';
import { fromDraws } from './from-draws.ts';
import { contactRadius, effectiveTaper_deg, inletSide_V } from './geometry.ts';
import { type GradientSetup, gradientSetups, setupAtOrganic } from './gradient.ts';
import { heldPressure, shareWords } from './held-pressure.ts';
import { meniscusOf } from './meniscus-of.ts';
import type { GradientRow, Plan } from './plan.ts';
import { sensitivities } from './sensitivity.ts';
import { sprayNumbers } from './spray-numbers.ts';
import { startSequence } from './start-sequence.ts';
import { supplyNumbers } from './supply-numbers.ts';
import { windowOf } from './window-of.ts';
import {
  cautionsFor,
  gradientWarnings,
  limitedBy,
  NOT_KNOWN,
  type PlanNumbers,
  warningsFor,
} from './words.ts';

export interface PlanOptions {
  /** What was seen on this emitter; the plan is then calibrated by it. */
  observations?: readonly Observation[];
  /** The plan is for the next emitter of the batch on which they were made: what differs from piece to piece is drawn anew in part. */
  sibling?: boolean;
}

export function planFor(setup: Setup, { observations = [], sibling: next = false }: PlanOptions = {}): Plan {
  checkSetup(setup);
  const seen = observations.length === 0 ? priorBelief() : beliefAfter(setup, observations);
  const belief = next ? sibling(seen) : seen;
  const { numbers, condition, draws } = numbersFor(setup, belief);
  const gradient = gradientOf(setup, condition, belief);
  const rows = gradientSetups(setup).map((row) => ({ ...row, ...rowNumbers(row, gradient, belief) }));
  const calibration = calibrationOf(condition, belief, next);
  return {
    ...numbers,
    advice_withheld: numbers.advice_withheld ?? gradientWithheld(gradient),
    limited_by: limitedBy(numbers),
    sensitivities: sensitivities(belief.draws, draws),
    ...(calibration === undefined ? {} : { calibration }),
    warnings: [...warningsFor(setup, numbers), ...gradientWarnings(rows)],
    cautions: cautionsFor(setup, numbers),
    along_gradient: rows.map(gradientRow),
    ...(gradient === undefined ? {} : { gradient }),
    sequence: startSequence(setup, { ...numbers, supplyLimit_V: HIGH_SUPPLY_V, gradient }),
    not_known: NOT_KNOWN,
  };
}

interface Numbers {
  numbers: PlanNumbers;
  condition: Condition;
  draws: WindowDraws;
}

function numbersFor(setup: Setup, belief: Belief): Numbers {
  const liquid = liquidProperties(setup.liquid);
  const condition = conditionOf(setup, liquid);
  const held = heldPressure(setup, condition, belief);
  const windowed = windowOf(setup, condition, belief, held);
  const spray = sprayNumbers(condition, windowed.draws);
  const { electric, ...supply } = supplyNumbers(setup, condition, spray.current_nA, windowed);
  const below_minimum = belowMinimum(condition, belief, windowed.draws);
  if (below_minimum.verdict === 'below') {
    const least = spray.minimum_flow_nL_min;
    const [set, low, high] = [condition.flow_nL_min.value, least.low, least.high].map(figure);
    electric.state = {
      kind: 'flow below the minimum',
      sentence: `No steady cone-jet is expected at ${set} nL/min at any voltage: this liquid needs ${low} to ${high} nL/min.${electric.state.kind === 'cone-jet expected' ? '' : ` ${electric.state.sentence}`}`,
    };
  }
  const stated = setup.voltage.supply_V;
  const chances = stated === undefined ? undefined : chancesAt(setup, stated, condition, windowed.draws);
  if (chances && electric.state.kind === 'cone-jet expected')
    electric.state.sentence += ` Steady there in ${shareWords(chances['steady cone-jet'])}${belief.observations === 0 ? ': walk the voltage and note what you see to know more' : ''}.`;
  if (held?.verdict === 'no equilibrium')
    electric.state = { kind: 'no equilibrium', sentence: held.sentence };
  const meniscus = meniscusOf(setup, condition, closedForm(setup, condition), held);
  const numbers: PlanNumbers = {
    liquid: calibratedLiquid(liquid, belief),
    flow_nL_min: condition.flow_nL_min,
    contact_line_radius_um: condition.tip.radius / UM,
    onset_V: windowed.onset_V,
    window_low_V: windowed.window.start_of_steady_V,
    window_high_V: windowed.window.several_jets_V,
    advised_V: windowed.advised_V,
    ...supply,
    advice_withheld: adviceWithheld({
      supply_V: supply.advised_supply_V,
      advised_V: windowed.advised_V,
      best_probability: windowed.window.best_probability,
      below_minimum,
      discharge_V: windowed.window.discharge_V,
      meniscus,
      held,
    }),
    meniscus,
    ...(held === undefined ? {} : { held_pressure: held }),
    window: windowed.window,
    ...(stated === undefined || chances === undefined ? {} : { at_supply: { supply_V: stated, chances } }),
    ...spray,
    below_minimum,
    feed_pressure_bar: feedPressure(setup, condition),
    electric_state: electric.state,
    electrolysis: electrolysis(
      spray.current_nA.value * NA,
      condition.flow_nL_min.value * NL_MIN,
      setup.polarity,
    ),
  };
  return { numbers, condition, draws: windowed.draws };
}

function gradientOf(setup: Setup, at: Condition, belief: Belief): GradientPlan | undefined {
  const { gradient } = setup;
  if (gradient === undefined) return undefined;
  return alongGradient({
    gradient,
    flow_nL_min: at.flow_nL_min.value,
    conditionsAt: (organic) => windowDraws(belief, conditionOf(setupAtOrganic(setup, gradient, organic))),
    inletSide_V: inletSide_V(setup),
    supplyLimit_V: HIGH_SUPPLY_V,
    contactRadius_um: at.tip.radius / UM,
    column: setup.voltage.column,
    supply_V: setup.voltage.supply_V,
  });
}

/** A line of the table at the stated supply, else at the fixed one found for the elution, so that it can be warned of. */
function rowNumbers(row: GradientSetup, gradient: GradientPlan | undefined, belief: Belief) {
  const supply_V = row.setup.voltage.supply_V ?? gradient?.fixed.supply_V ?? undefined;
  const setup = { ...row.setup, voltage: { ...row.setup.voltage, supply_V } };
  return { supply_V: supply_V ?? null, plan: numbersFor(setup, belief).numbers };
}

function gradientRow(row: {
  time_min: number;
  organic_percent: number;
  supply_V: number | null;
  plan: PlanNumbers;
}): GradientRow {
  const { plan } = row;
  return {
    time_min: row.time_min,
    organic_percent: row.organic_percent,
    surface_tension_mN_m: plan.liquid.surface_tension_mN_m.value,
    conductivity_S_m: plan.liquid.conductivity_S_m.value,
    onset_V: plan.onset_V.value,
    window_low_V: plan.window_low_V.value,
    window_high_V: plan.window_high_V.value,
    current_nA: plan.current_nA.value,
    minimum_flow_nL_min: plan.minimum_flow_nL_min.value,
    ohmic_drop_V: plan.ohmic_drop_V.value,
    supply_V: row.supply_V,
    tip_V: plan.tip_V?.value ?? null,
    state: plan.electric_state.kind,
  };
}

function chancesAt(
  setup: Setup,
  supply: number,
  { flow_nL_min }: Condition,
  draws: Parameters<typeof supplyEdges>[0],
): Record<SprayState, number> {
  return stateShares(supplyEdges(draws, inletSide_V(setup), flow_nL_min.value * NL_MIN), supply);
}

function closedForm(setup: Setup, { jetLiquid, tip }: Condition): number {
  return onsetClosed({
    surfaceTension: jetLiquid.surfaceTension,
    contactRadius: contactRadius(setup),
    distance: Math.max(setup.inlet.distance_mm * MM, tip.radius),
    taperHalfAngle_deg: effectiveTaper_deg(setup),
  });
}

/** What observations moved in the liquid's own numbers. */
function calibratedLiquid(liquid: LiquidProperties, belief: Belief): LiquidProperties {
  if (belief.observations === 0) return liquid;
  const moved = (e: Estimate, z: Float64Array, factor: (e: Estimate, z: number) => number) =>
    fromDraws(
      z.map((at) => e.value * factor(e, at)),
      { basis: `${e.basis}, calibrated by what was seen`, sources: [], note: e.note },
      e,
    );
  return {
    ...liquid,
    surface_tension_mN_m: moved(liquid.surface_tension_mN_m, belief.draws['surface tension'], factorOf),
    conductivity_S_m: moved(liquid.conductivity_S_m, belief.draws.conductivity, conductivityFactor),
  };
}

function feedPressure(setup: Setup, { hydraulic, flow_nL_min, liquid, jetLiquid }: Condition): Estimate {
  const held = staticFeedPressure(setup, jetLiquid.surfaceTension / contactRadius(setup));
  if (held !== undefined) return held;
  const { value, low, high } = liquid.viscosity_mPa_s;
  const at = (R: number, Q: number, share: number) => (R * Q * NL_MIN * share) / BAR;
  return estimate(
    at(hydraulic.value, flow_nL_min.value, 1),
    at(hydraulic.low, flow_nL_min.low, low / value),
    at(hydraulic.high, flow_nL_min.high, high / value),
    {
      basis: 'Hagen–Poiseuille, the emitter alone; the range spans what is known of the bore behind the tip',
      sources: [SOURCES.poiseuille],
    },
  );
}
