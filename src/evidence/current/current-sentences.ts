/** The words of a reading: verdict first, what stands beside it, what hurts, what is not known. */
import { frequencyText } from '../../core/signal/index.ts';
import { durationText } from '../words.ts';
import type { CurrentReading, RegimeStretch } from './current-reading.ts';
import { currentText, regimeLabel } from './labels.ts';
import { pressureText } from './pressure-beside.ts';
import { type ExpectedCurrent, likeliest, REGIMES, type RegimeProbabilities } from './regimes.ts';
import { type Rhythm, rhythmText } from './rhythm.ts';
import type { LevelStep } from './steps.ts';

const NA = 1e-9;

export function cautionsOf(shares: RegimeProbabilities): string[] {
  const cautions = [
    'Voltages and cables here can hurt: change connections only with high voltage off, by the rules of the lab.',
  ];
  if (shares.discharge > 0.05)
    cautions.unshift(
      'A discharge may be burning: lower the voltage, and do not touch the source before it is off and discharged.',
    );
  return cautions;
}

export function notKnown(decides: boolean, expected: ExpectedCurrent | undefined): string[] {
  return [
    'Whether a steady current is one tilted jet or an upright one: the current of both is alike; look at the meniscus.',
    ...(decides ? [] : ['Pulsation faster than the trace can show.']),
    ...(expected ? [] : ['Whether the level fits the liquid and the flow: give the set-up.']),
    'Whether the current leaves from the tip: a leak along a wet holder looks the same until the flow is off.',
  ];
}

export function sentencesOf(
  reading: CurrentReading,
  rhythm: Rhythm | null,
  steps: readonly LevelStep[],
): string[] {
  if (reading.windows.length === 0) return ['Too few samples for a window: nothing can be said.'];
  const first = likeliest(reading.shares);
  const longest = reading.timeline
    .filter((s) => s.regime === first)
    .reduce<RegimeStretch | undefined>(
      (a, b) => (a && a.end_s - a.start_s >= b.end_s - b.start_s ? a : b),
      undefined,
    );
  const length = durationText(reading.end_s - reading.start_s);
  const sentences = [
    longest
      ? `Mostly ${longest.sentence.replace(/\.$/, '')}; ${Math.round(100 * reading.shares[first])} % of ${length}.`
      : `Mostly ${regimeLabel(first, reading.decidability)}; ${Math.round(100 * reading.shares[first])} % of ${length}.`,
  ];
  const others = REGIMES.filter((name) => name !== first && reading.timeline.some((s) => s.regime === name));
  if (others.length > 0)
    sentences.push(
      `Also: ${others.map((name) => `${regimeLabel(name, reading.decidability)} (${Math.round(100 * reading.shares[name])} %)`).join(', ')}.`,
    );
  sentences.push(reading.bandwidth.sentence, reading.decidability.sentence);
  if (reading.comparison) sentences.push(reading.comparison.sentence);
  if (steps.length > 0)
    sentences.push(`${steps.length} step${steps.length === 1 ? '' : 's'} of the level; see the events.`);
  if (reading.mains)
    sentences.push(
      `Mains pick-up at ${reading.mains.base_Hz} Hz, ${currentText(reading.mains.amplitude_nA)}: shield the meter's lead and ground it at one point.`,
    );
  if (rhythm)
    sentences.push(
      `A slow rhythm (${rhythmText(rhythm)}, ${currentText(rhythm.amplitude_A / NA)}): pump, bubbles or a wet face, not the natural mode of a small meniscus (${frequencyText(reading.decidability.pulsation_Hz.low)} and more).`,
    );
  if (reading.pressure) sentences.push(pressureText(reading.pressure, rhythm !== null));
  return sentences;
}
