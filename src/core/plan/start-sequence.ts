/**
 * What a person does at the bench with this plan: from dry check to a steady spray, and how to park. Words with the plan's
 * numbers in them; nothing here moves a voltage. Order and figures are common practice, no source, unless a number of the
 * plan stands behind them; local rules and trained staff come first. A step that raises the voltage asks for a yes.
 */
import type { Estimate } from '../estimate.ts';
import type { GradientPlan } from '../gradient/index.ts';
import { isSalt, type Setup } from '../setup.ts';
import { figure } from './figure.ts';
import { contactRadius, inletSide_V } from './geometry.ts';
import type { HeldPressure } from './held-pressure.ts';

export interface SequenceStep {
  title: string;
  action: string;
  /** What should then be seen; absent where nothing is expected. */
  expect?: string;
  caution: string;
  /** The voltage goes up in this step: a person says yes first, hands clear of the source. */
  asks_for_yes: boolean;
}

export interface StartSequence {
  start: SequenceStep[];
  park: SequenceStep[];
}

export interface StartNumbers {
  onset_V: Estimate;
  advised_supply_V: Estimate;
  advice_withheld: string | null;
  feed_pressure_bar: Estimate;
  held_pressure?: HeldPressure | undefined;
  current_nA: Estimate;
  /** No supply above this is advised [V]. */
  supplyLimit_V: number;
  gradient?: GradientPlan | undefined;
}

/** Common practice, no source. */
const DRY_CURRENT_NA = '1 to 5 nA';
/** Less cannot be told from the fittings' own on a pump's gauge (judgement). */
const LEAST_READABLE_BAR = 0.2;
const SMALL_RADIUS_M = 25e-6;
const NEGATIVE_SHARE = '70 to 90 %';

export function startSequence(setup: Setup, numbers: StartNumbers): StartSequence {
  const target = targetSupply(numbers);
  const step_V = contactRadius(setup) <= SMALL_RADIUS_M ? 50 : 100;
  return {
    start: [
      look(setup),
      dryCheck(setup, target),
      pressureCheck(setup, numbers),
      voltageBeforeFlow(setup, numbers, target, step_V),
      flowOn(setup),
      raiseToTarget(setup, numbers, target, step_V),
      settle(),
      ...(numbers.gradient === undefined ? [] : [walk(numbers.gradient), ...enter(numbers.gradient)]),
    ],
    park: parkSteps(setup),
  };
}

/** The supply to stand at for the start: the ramp's first voltage, else the advised one; undefined where none may be advised. */
function targetSupply(numbers: StartNumbers): number | undefined {
  const { gradient, advised_supply_V, advice_withheld, supplyLimit_V } = numbers;
  if (numbers.held_pressure?.verdict === 'no equilibrium') return undefined;
  const alone = advice_withheld === null ? advised_supply_V.value : undefined;
  const supply = gradient === undefined ? alone : gradient.ramp.steps[0]?.supply_V;
  if (supply === undefined) return undefined;
  return supply > 0 && supply <= supplyLimit_V ? Math.round(supply / 10) * 10 : undefined;
}

function look(setup: Setup): SequenceStep {
  return {
    title: 'Look at the tip',
    action: `Supply at 0 V and read back as 0 V, contact grounded. Look at the tip under a microscope: square, no chip, dry. Set ${figure(setup.inlet.distance_mm)} mm to the inlet without touching it.`,
    caution: `Sharp glass: eye protection, no bare fingers. The inlet is hot${setup.inlet.potential_V === 0 ? '' : ' and live with the emitter supply at 0 V'}. Local rules and trained staff come first; interlocks stay as they are.`,
    asks_for_yes: false,
  };
}

function dryCheck(setup: Setup, target: number | undefined): SequenceStep {
  const volts = target === undefined ? 'a voltage below the expected onset' : `${target} V`;
  return {
    title: 'Dry leak check',
    action: `Before any liquid is in the holder${setup.voltage.contact === 'liquid junction' ? ' and the junction' : ''}: raise the dry supply to ${volts} in steps and read the current; then back to 0 V. With liquid already in the line leave this step out.`,
    expect: `Below ${DRY_CURRENT_NA} (common practice, no source). More: a leak along the holder, or a discharge at the dry tip; clean and dry it, do not go on.`,
    caution:
      'Live without any liquid: hands clear. Back to 0 V, read it back, wait and ground before touching.',
    asks_for_yes: true,
  };
}

function pressureCheck(
  setup: Setup,
  { feed_pressure_bar: pressure, held_pressure: held }: StartNumbers,
): SequenceStep {
  const bar = (value: number) => `${figure(Number(value.toPrecision(2)))} bar`;
  const range =
    pressure.high < LEAST_READABLE_BAR
      ? `Less than ${LEAST_READABLE_BAR} bar above what the empty fittings show, too little to read`
      : `About ${bar(pressure.value)} (${bar(pressure.low)} to ${bar(pressure.high)}) above what the empty fittings show`;
  const clogged = bar(Math.max(LEAST_READABLE_BAR, 2 * pressure.high));
  if (setup.feed.kind === 'static')
    return {
      title: 'Gas pressure, voltage off',
      action:
        held?.verdict === 'no equilibrium'
          ? `Do not raise the gas to ${figure(setup.feed.back_pressure_mbar)} mbar: raise it slowly and stay where the meniscus still stands at the rim. ${held.sentence}`
          : `Raise the gas slowly to ${figure(setup.feed.back_pressure_mbar)} mbar.`,
      expect: 'A small flat meniscus at the rim. A bead that grows: lower the gas.',
      caution: 'Release the gas before opening a fitting. Never wipe a bead with the voltage on.',
      asks_for_yes: false,
    };
  return {
    title: 'Pressure of the emitter alone, voltage off',
    action: `Without the column, pump ${figure(setup.feed.flow_nL_min)} nL/min through the emitter and wait until the pressure stands.`,
    expect: `${range}; a bead that leaves straight. ${clogged} or more: clogged, or a burr in the joint.${pressure.low > LEAST_READABLE_BAR ? ' Near nothing: a leak or a broken tip.' : ''}`,
    caution:
      'Release the pressure before opening a fitting. Take the bead away with the supply at 0 V, read back and grounded.',
    asks_for_yes: false,
  };
}

function voltageBeforeFlow(
  setup: Setup,
  numbers: StartNumbers,
  target: number | undefined,
  step_V: number,
): SequenceStep {
  const onset = numbers.gradient?.onset_V.low[0] ?? numbers.onset_V.low;
  const under = Math.max(0, Math.floor((onset + inletSide_V(setup)) / step_V) * step_V);
  const volts = Math.min(under, target ?? under);
  return {
    title: 'Voltage before flow',
    action: `Tip blown dry, flow off: set ${volts} V, under the least expected onset.`,
    expect: `No more than the dry current${setup.polarity === 'negative' ? '; in negative polarity a current without flow is a discharge: lower the voltage at once' : ''}.`,
    caution:
      'Flow before voltage floods the shank and the onset rises: then voltage to 0 V, read back, ground, dry the tip, begin again.',
    asks_for_yes: true,
  };
}

function flowOn(setup: Setup): SequenceStep {
  return {
    title: 'Flow on',
    action:
      setup.feed.kind === 'pumped'
        ? `Start ${figure(setup.feed.flow_nL_min)} nL/min at the start composition; wait for the liquid to reach the tip.`
        : 'Open the gas to its set pressure.',
    expect: 'Slow drops or pulses at the rim, no bead that climbs the shank.',
    caution: 'A bead at the tip is live. Never wipe it with the voltage on.',
    asks_for_yes: false,
  };
}

function raiseToTarget(
  setup: Setup,
  { current_nA, gradient, supplyLimit_V, advice_withheld }: StartNumbers,
  target: number | undefined,
  step_V: number,
): SequenceStep {
  const current = (of: 'low' | 'high') => figure(gradient?.current_nA[of][0] ?? current_nA[of]);
  const negative =
    setup.polarity === 'negative'
      ? ` Negative polarity: expect ${NEGATIVE_SHARE} of the positive voltage and about half the window; corona comes first, most of all in water (common practice, no source).`
      : '';
  return {
    title: 'Raise in steps',
    action:
      target === undefined
        ? `No supply can be advised for this set-up${advice_withheld === null ? ` below ${supplyLimit_V} V` : ` (${advice_withheld})`}: stay under the onset and find out why first (contact place, wetted shank, distance, feed).`
        : `Raise by ${step_V} V, 5 to 10 s at each, to about ${target} V. Note the onset and where the spray turns steady; stop short of the target where it is steady before.`,
    expect: `A current that jumps and then stands, about ${current('low')} to ${current('high')} nA. Tilt or a second jet: come down until it is gone.`,
    caution: `Each raise needs a yes, with hands clear. Stop at noise, light, smell of ozone or a current that runs away: lower the voltage first, then look.${negative}`,
    asks_for_yes: target !== undefined,
  };
}

function settle(): SequenceStep {
  return {
    title: 'Let it stand',
    action:
      'Leave it 10 to 30 min (common practice, no source) and write down voltage, current, pressure, position and the direction from which the voltage was reached.',
    expect: 'Current within 3 %, a still cone, the pressure of the check before.',
    caution:
      'Unattended only with a current limit and a closed source, as local rules say. Exhaust connected: solvent vapour and sample leave as aerosol.',
    asks_for_yes: false,
  };
}

function walk(gradient: GradientPlan): SequenceStep {
  const points = gradient.walk_at
    .map(
      (p) =>
        `${figure(p.organic_percent)} % organic (${figure(p.percent_B)} % B): ${Math.round(p.from_V)} to ${Math.round(p.to_V)} V by ${p.step_V} V`,
    )
    .join('; ');
  const waits = gradient.walk_at.flatMap((p) => (p.wait_min === null ? [] : [p.wait_min]));
  const wait =
    waits.length === 0
      ? 'until the composition has passed every volume to the tip'
      : `${Math.ceil(Math.max(...waits))} min each`;
  return {
    title: 'Walk the voltage at three compositions',
    action: `Isocratic, after waiting ${wait}: ${points}. Note onset, steady, tilt going up; then downwards for the hysteresis.`,
    expect:
      'Three windows, and the current at each: they settle what the plan cannot know. A conductivity read at one composition says nothing of another.',
    caution:
      'Each raise needs a yes. Stop the walk at the first tilt, second jet, noise, light or smell of ozone; the upper end of a range is no target.',
    asks_for_yes: true,
  };
}

function enter(gradient: GradientPlan): SequenceStep[] {
  const { steps } = gradient.ramp;
  if (steps.length === 0) return [];
  return [
    {
      title: steps.length > 1 ? 'Enter the ramp' : 'Keep one voltage',
      action:
        steps.length > 1
          ? `A person enters the ${steps.length} voltages and times of the ramp, corrected by the walk: ${steps.map((s) => `${Number(s.time_min.toFixed(1))} min ${s.supply_V} V`).join(', ')}. Then a blank gradient, watched from start to wash.`
          : `${steps[0]!.supply_V} V through the run, corrected by the walk. Then a blank gradient, watched from start to wash.`,
      caution:
        steps.length === 1
          ? 'A correction upwards needs a yes, with hands clear.'
          : steps.some((s) => s.raises)
            ? 'The table raises the voltage during the run: source closed, nobody at it, a yes before it starts.'
            : 'Going back to the first voltage for the next run is a raise: source closed, nobody at it, a yes before it starts.',
      asks_for_yes: true,
    },
  ];
}

function parkSteps(setup: Setup): SequenceStep[] {
  const salt = isSalt(setup.liquid.additive);
  return [
    {
      title: 'Pause of minutes, someone present',
      action:
        setup.feed.kind === 'pumped'
          ? 'Keep a slow flow (50 to 100 nL/min, common practice) of half organic, and lower the voltage only so far that it still sprays: a stopped tip dries, an unsprayed flow floods the shank.'
          : 'Leave gas and voltage as they are while liquid lasts, or park in liquid.',
      caution: 'The tip stays live: hands off.',
      asks_for_yes: false,
    },
    {
      title: 'Longer: voltage off, flow off, tip in liquid',
      action: `${salt ? 'First flush the salt out with water, then half organic: crystals grow within a minute. ' : ''}Flow down, supply to 0 V, read it back, wait, ground the contact; flow off and pressure released; move the tip away from the hot inlet and cap it in water and organic, no salt.`,
      expect: 'Pressure near 0 bar before a fitting is opened; a wet, clean rim.',
      caution:
        'Voltage off is read, not assumed: a wet line stays live back to the next grounded fitting. Sharp glass. Keep the open solvent small and ventilated.',
      asks_for_yes: false,
    },
  ];
}
