/**
 * Whether a held feed leaves the meniscus an equilibrium at all. No meniscus on a contact line of radius a bears 2 γ/a: from there the
 * liquid bulges out and drips without any field, and there is no onset to speak of. Asked of every imagined emitter with its own
 * contact line, surface tension and pressure. A pumped feed holds a flow, not a pressure: it is not asked.
 * Exact for a small meniscus (Young and Laplace; gravity left out); the pull of the field only takes away from what it bears.
 * Worked number: γ 0.0383 N/m, a 10 µm: 2 γ/a = 77 mbar.
 */
import type { Estimate } from '../estimate.ts';
import type { Setup } from '../setup.ts';
import { MBAR, MN_M } from '../units.ts';
import { type Belief, contactRadiusOf, factorOf, pressureOffset } from '../window/index.ts';
import type { Condition } from './condition.ts';
import { figure } from './figure.ts';
import { fromDraws } from './from-draws.ts';

/** [γ/a] */
export const MOST_BORNE = 2;
/** Below this share of the draws it is not worth a word. Judgement. */
const SELDOM = 0.1;

export interface HeldPressure {
  /** Pressure of the feed over γ/a at the wetted radius, without field and without flow. */
  over_capillary: Estimate;
  /** Share of the draws in which no meniscus bears it. */
  no_equilibrium_probability: number;
  verdict: 'equilibrium' | 'not decidable' | 'no equilibrium';
  sentence: string;
}

export function heldPressure(setup: Setup, condition: Condition, belief: Belief): HeldPressure | undefined {
  if (setup.feed.kind !== 'static') return undefined;
  const { tip, liquid } = condition;
  const gas_mbar = setup.feed.back_pressure_mbar;
  const tension = liquid.surface_tension_mN_m;
  const over = new Float64Array(belief.count);
  let beyond = 0;
  for (let i = 0; i < belief.count; i++) {
    const radius = contactRadiusOf(tip, belief.draws.contact[i]!);
    const gamma = tension.value * MN_M * factorOf(tension, belief.draws['surface tension'][i]!);
    over[i] = (gas_mbar * MBAR * radius) / gamma + pressureOffset(belief.draws.pressure[i]!);
    if (over[i]! >= MOST_BORNE) beyond++;
  }
  const over_capillary = fromDraws(
    over,
    {
      basis:
        'gas pressure over γ/a at the wetted radius; range over contact line, surface tension and pressure',
      sources: ['Young and Laplace: a cap on a contact line bears at most 2 γ/a (exact)'],
    },
    tension,
  );
  const probability = beyond / belief.count;
  const most_mbar = figure((MOST_BORNE * tension.value * MN_M) / tip.radius / MBAR);
  const share = shareWords(probability);
  const times = timesWords(over_capillary);
  const verdict =
    over_capillary.value >= MOST_BORNE
      ? 'no equilibrium'
      : probability < SELDOM
        ? 'equilibrium'
        : 'not decidable';
  const sentences = {
    'no equilibrium': `No equilibrium: ${figure(gas_mbar)} mbar is ${times}, and no meniscus bears more than ${MOST_BORNE} γ/a, about ${most_mbar} mbar here. The liquid bulges out and drips without field, in ${share}.`,
    'not decidable': `The liquid may bulge out and drip without field (${share}): ${figure(gas_mbar)} mbar is ${times}, and no meniscus bears more than ${MOST_BORNE} γ/a, about ${most_mbar} mbar here.`,
    equilibrium: `${figure(gas_mbar)} mbar is ${times}: a meniscus bears it (up to ${MOST_BORNE} γ/a).`,
  };
  return { over_capillary, no_equilibrium_probability: probability, verdict, sentence: sentences[verdict] };
}

export function timesWords({ value, low, high }: Estimate): string {
  return `${figure(value)} γ/a (${figure(low)} to ${figure(high)}) at the wetted radius`;
}

export function shareWords(probability: number): string {
  return `${Math.round(100 * probability)} % of what is thought possible`;
}
