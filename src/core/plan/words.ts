/** The plan's limits, warnings and cautions in plain words. Numbers come in, sentences go out. */
import type { Estimate } from '../estimate.ts';
import { measurementsAsked } from '../liquid/index.ts';
import type { Setup } from '../setup.ts';
import { sparkVoltage } from '../window/index.ts';
import { HIGH_SUPPLY_V } from './advice-withheld.ts';
import { figure } from './figure.ts';
import { inletSide_V } from './geometry.ts';
import type { Plan } from './plan.ts';

export type PlanNumbers = Omit<
  Plan,
  | 'limited_by'
  | 'sensitivities'
  | 'calibration'
  | 'warnings'
  | 'cautions'
  | 'along_gradient'
  | 'gradient'
  | 'sequence'
  | 'not_known'
>;

/** A share of the supply lost in the liquid that a person should hear of. */
const DROP_WORTH_SAYING = 0.1;
/** A conductivity known worse than this factor rules the current and the minimum flow. */
const CONDUCTIVITY_FACTOR = 1.3;
/** Share of the gas's solubility from which bubbles are to be expected, dissolved air beside it. Judgement. */
const BUBBLES_FROM = 0.5;
/** Jet diameter over contact radius beyond which the cone is no longer slender (judgement). */
const THICK_JET = 0.2;
const PRESSURE_WORTH_SAYING_BAR = 300;
/** A sharp tip or a droplet bridge sparks earlier than a uniform gap. Judgement. */
const SPARK_SHARE = 0.5;

export function limitedBy(plan: PlanNumbers): string {
  const factor = (e: Estimate) => (e.value <= 0 ? 1 : Math.sqrt(e.high / Math.max(e.low, e.value * 0.01)));
  if (plan.electric_state.kind === 'no equilibrium')
    return 'The feed pressure: no meniscus bears it at this wetted radius; lower the gas, or look at which rim is wet.';
  if (plan.electric_state.kind === 'no cone-jet at this supply and contact')
    return 'The place of the electrical contact: the liquid column takes the voltage before the tip sees it.';
  if (plan.below_minimum.verdict === 'below')
    return 'The flow: it is below the minimum for a steady cone-jet of this liquid at any voltage.';
  const candidates: [number, string][] = [
    [
      factor(plan.onset_V),
      'The onset: which rim is wet and the feed pressure move it more than anything else; look at the meniscus or find the onset by a slow voltage walk.',
    ],
    [
      factor(plan.flow_nL_min),
      'The flow: with a static feed it is known only as a range; weigh or time the consumed liquid.',
    ],
    [
      factor(plan.liquid.conductivity_S_m),
      'The conductivity of this liquid: measure it (50 µL cell) or read the spray current at this composition.',
    ],
    [
      plan.minimum_flow_nL_min.low < plan.flow_nL_min.value &&
      plan.flow_nL_min.value < plan.minimum_flow_nL_min.high
        ? factor(plan.minimum_flow_nL_min) * 0.8
        : 1,
      'The minimum flow: the set flow lies inside its range; read the spray current at this composition.',
    ],
    [
      1 + plan.ohmic_drop_V.value / plan.advised_supply_V.value,
      'The ohmic drop in the liquid column: it changes with the liquid, so the tip does not see a constant voltage.',
    ],
  ];
  candidates.sort((a, b) => b[0] - a[0]);
  return candidates[0]![1];
}

export function warningsFor(setup: Setup, plan: PlanNumbers): string[] {
  const warnings: string[] = measurementsAsked(setup.liquid);
  const round = (v: number) => (v >= 100 ? figure(v) : v.toPrecision(2));
  const { flow_nL_min: flow } = plan;
  if (plan.below_minimum.verdict !== 'above') warnings.push(plan.below_minimum.sentence);
  const supply = setup.voltage.supply_V ?? plan.advised_supply_V.value;
  // Without a cone-jet no such current flows: the state's own sentence says what the column would take.
  if (plan.tip_V !== undefined && plan.ohmic_drop_V.value > DROP_WORTH_SAYING * supply)
    warnings.push(
      `About ${round(plan.ohmic_drop_V.value)} V of the supply ${setup.voltage.supply_V === undefined ? 'would be' : 'is'} lost in the liquid column.`,
    );
  if (
    plan.electric_state.kind !== 'cone-jet expected' &&
    plan.electric_state.kind !== 'flow below the minimum'
  )
    warnings.push(plan.electric_state.sentence);
  if (plan.held_pressure?.verdict === 'not decidable') warnings.push(plan.held_pressure.sentence);
  const inletSide = inletSide_V(setup);
  const across = supply - inletSide;
  const spark = SPARK_SHARE * sparkVoltage(setup.inlet.distance_mm / 1000);
  if (across > spark)
    warnings.push(
      `${figure(across)} V across ${figure(setup.inlet.distance_mm)} mm may spark to the inlet: above ${figure(spark)} V, half of what a uniform air gap this long holds (judgement). Lower the supply or move the tip back.`,
    );
  if (plan.advised_supply_V.value < 0)
    warnings.push(
      `The inlet potential alone (${figure(-inletSide)} V against a grounded tip) is above the advised ${figure(plan.advised_V.value)} V: no supply voltage of this polarity brings the tip into its window.`,
    );
  if (!plan.onset_V.valid && plan.onset_V.note)
    warnings.push(`Onset outside its validity: ${plan.onset_V.note}.`);
  if (plan.jet_diameter_nm.value / 1000 > THICK_JET * plan.contact_line_radius_um)
    warnings.push(
      `A jet of ${round(plan.jet_diameter_nm.value)} nm is not thin against a contact line of ${round(plan.contact_line_radius_um)} µm radius: the cone-jet laws do not hold at this flow on this tip.`,
    );
  if (plan.feed_pressure_bar.value > PRESSURE_WORTH_SAYING_BAR)
    warnings.push(
      `The emitter alone would need about ${round(plan.feed_pressure_bar.value)} bar at this flow: beyond most nanoflow pumps and fittings (common practice, no source).`,
    );
  const K = plan.liquid.conductivity_S_m;
  if (K.high / K.value > CONDUCTIVITY_FACTOR)
    warnings.push(
      `Conductivity of this liquid is known only from ${K.low.toPrecision(2)} to ${K.high.toPrecision(2)} S/m: ${setup.liquid.additive === 'none' ? 'without an additive traces of salt and dissolved carbon dioxide decide' : 'no measurement of such a liquid was found'}.`,
    );
  const discharge = plan.window.discharge_V;
  if (discharge !== null && discharge.low < plan.window.several_jets_V.value)
    warnings.push(
      setup.polarity === 'negative'
        ? `A discharge may begin from ${figure(discharge.low)} V at the tip, in negative polarity below the positive limit (estimate): prefer some organic and the lower half of the window.`
        : `A discharge may begin from ${figure(discharge.low)} V at the tip (estimate): do not go there.`,
    );
  if (plan.electrolysis.saturation > BUBBLES_FROM)
    warnings.push(
      `The spray current alone makes ${plan.electrolysis.gas} up to ${Math.round(100 * plan.electrolysis.saturation)} % of what water dissolves: bubbles at the electrode are to be expected in this small flow.`,
    );
  if (!flow.valid && flow.note) warnings.push(`Flow: ${flow.note}.`);
  return warnings;
}

export function cautionsFor(setup: Setup, plan: PlanNumbers): string[] {
  const cautions = [
    'High voltage: before a hand goes near the emitter set the supply to 0 V, read it back, wait, and ground the contact. Local rules and trained staff come first; interlocks stay as they are.',
    'Raise the voltage only with hands clear of the source, in small steps, and stop at noise, light or smell of ozone.',
    'Emitter tips are sharp glass: eye protection, and a sharps container for spent ones.',
  ];
  if (setup.voltage.contact === 'liquid junction')
    cautions.push(
      'With a liquid junction every metal part the liquid touches is live, from the contact to the next grounded fitting upstream: do not touch a fitting or the column under voltage.',
    );
  if (setup.inlet.potential_V !== 0)
    cautions.push(
      `The inlet itself stands at ${figure(setup.inlet.potential_V)} V: the gap is live with the emitter supply at 0 V.`,
    );
  if (
    setup.gradient !== undefined ||
    setup.liquid.acetonitrile_percent + setup.liquid.methanol_percent + setup.liquid.propanol_2_percent > 0
  )
    cautions.push(
      'The organic solvent is flammable and harmful to breathe: ventilate, small volumes, no open drops under voltage.',
    );
  if (setup.feed.kind === 'static' || plan.feed_pressure_bar.high > 10)
    cautions.push('Pressure stands behind the emitter: release it before opening a fitting.');
  if (plan.advised_supply_V.value > HIGH_SUPPLY_V)
    cautions.push(
      `The advised supply is above ${HIGH_SUPPLY_V} V, beyond what this advice can stand on: find out why (contact place, wetted shank, distance) before going there.`,
    );
  return cautions;
}

/** Where along the gradient this set-up leaves its window at the stated supply, or its flow nears the minimum. */
export function gradientWarnings(
  rows: readonly { time_min: number; organic_percent: number; plan: PlanNumbers }[],
): string[] {
  const where = (row: { time_min: number; organic_percent: number }) =>
    `${figure(row.time_min)} min (${figure(row.organic_percent)} % organic)`;
  const listed = (found: typeof rows) => {
    const [first, last] = [found[0]!, found.at(-1)!];
    return first === last ? where(first) : `${where(first)} and ${found.length - 1} more to ${where(last)}`;
  };
  const warnings: string[] = [];
  const say = (fits: (plan: PlanNumbers) => boolean, words: (plan: PlanNumbers) => string) => {
    const found = rows.filter((row) => fits(row.plan));
    if (found.length > 0) warnings.push(`Along the gradient, at ${listed(found)}: ${words(found[0]!.plan)}`);
  };
  for (const kind of [
    'no equilibrium',
    'below onset',
    'no cone-jet at this supply and contact',
    'above window',
  ] as const)
    say(
      (plan) => plan.electric_state.kind === kind,
      (plan) => plan.electric_state.sentence,
    );
  say(
    (plan) => plan.below_minimum.verdict !== 'above',
    (plan) => plan.below_minimum.sentence,
  );
  return warnings;
}

export const NOT_KNOWN: string[] = [
  'Which rim is truly wet, and the feed pressure at the meniscus: the ranges are judgement. A look through a microscope or a slow voltage walk decides.',
  'The upper edge of the window: no published ratio; it is judgement until this emitter has been walked.',
  'Gravity, gas flow at the inlet, and what the inlet does to the field beyond a plane.',
];
