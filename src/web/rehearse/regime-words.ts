/** What the open rehearsal says of the moment, in a sentence that changes only when the regime does, and what to try next. */
import type { BenchState } from '../../rehearsal/index.ts';
import { figure, withUnit } from '../words.ts';
import { CYCLE_S } from './desk-constants.ts';

export function regimeWords(state: BenchState): { now: string; next: string } {
  const words = WORDS[state.regime];
  if (state.gas)
    return {
      now: 'Gas stands in the tip: no liquid at the face.',
      next: 'Wait: see whether it comes again, and with what rhythm.',
    };
  if (state.regime === 'no spray' && state.flow_nL_min < 1)
    return {
      now: 'No spray: hardly any liquid reaches the tip.',
      next: 'Look at flow and pressure before the voltage.',
    };
  if (state.regime === 'dripping' && state.tip_V < 1)
    return {
      now: 'No voltage at the tip: the drop grows and falls.',
      next: 'A tip that floods wets its outside: on a real bench, start with voltage before flow.',
    };
  const several = state.regime === 'several jets' ? `${state.jets} jets leave the tip.` : words.now;
  if (state.arcing && state.regime !== 'arc')
    return {
      now: `${several} Arcs jump now and then: the voltage breaks down for a moment.`,
      next: 'Lower the voltage until they stop. On a real bench arcs end the emitter.',
    };
  return {
    now: state.corona ? `${several} Corona glows as well: random pulses, no gain in signal.` : several,
    next: state.corona ? 'Lower the voltage until the random pulses stop.' : words.next,
  };
}

const WORDS: Record<BenchState['regime'], { now: string; next: string }> = {
  'no spray': { now: 'No spray.', next: 'Raise the voltage in small steps and watch the meniscus rise.' },
  dripping: {
    now: 'Below the onset: liquid gathers and drips.',
    next: 'Raise the voltage towards the onset: the apex rises slowly, then all at once.',
  },
  bursts: {
    now: 'Just above the onset: trains of pulses with pauses between.',
    next: 'A little more voltage: the pauses close.',
  },
  pulsating: {
    now: 'Pulsating: the meniscus gathers charge, ejects and relaxes.',
    next: 'A slow meter shows this as a steady, low current. Raise the voltage until the current settles.',
  },
  unsteady: {
    now: 'Unsteady: it switches between pulsation and a jet.',
    next: 'The steady edge is near: a few tens of volts more.',
  },
  'cone-jet': {
    now: 'A steady cone-jet.',
    next: 'Find the best signal with voltage, offset and distance; then lower the voltage and see how far the jet survives.',
  },
  'tilted jet': {
    now: 'The jet leans: the voltage is above its best.',
    next: 'The current hardly tells, the signal does: lower the voltage.',
  },
  'several jets': {
    now: 'Several jets leave the tip.',
    next: 'The current stepped up by the root of their number. Lower the voltage.',
  },
  arc: {
    now: 'Arcs jump to the inlet.',
    next: 'Lower the voltage or move away. On a real bench this ends the emitter.',
  },
};

/** The regime in a few words. */
export function regimeName({ regime, jets, corona, arcing, gas }: BenchState): string {
  if (gas) return 'gas in the tip';
  const name = NAMES[regime] ?? regime;
  const beside = corona ? ' with corona' : arcing && regime !== 'arc' ? ' with arcs' : '';
  return `${regime === 'several jets' ? `${jets} jets` : name}${beside}`;
}

const NAMES: Partial<Record<BenchState['regime'], string>> = {
  bursts: 'bursts of pulses',
  'cone-jet': 'a steady cone-jet',
  'tilted jet': 'a leaning jet',
  arc: 'arcs',
};

/** The rate that a slow meter hides; undefined where nothing pulsates. */
export function pulsationWords({ pulsation }: BenchState): string | undefined {
  if (pulsation === undefined) return undefined;
  return `It pulsated at ${withUnit(figure(pulsation.frequency_Hz / 1000, 2), 'kHz')}; a meter that ends below that shows only the mean.`;
}

/** The true rate beside the slowed picture. */
export function rateWords(state: BenchState): string | undefined {
  const { pulsation, regime } = state;
  if (pulsation === undefined) return undefined;
  const kHz = withUnit(figure(pulsation.frequency_Hz / 1000, 2), 'kHz');
  const slower = figure(pulsation.frequency_Hz * CYCLE_S, 2);
  const train = regime === 'bursts' ? ' within each train' : '';
  return `True rate ${kHz}${train}; drawn ${slower} times slower. The rise follows the solved shapes, ejection and recoil are composed.`;
}
