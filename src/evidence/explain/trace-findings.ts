/**
 * A current trace and microscope frames as answers to the catalogue. They are the only evidence that shows a regime; each
 * comes with the belief of whatever read it. The current's size is asked against the plan's, which is known to a factor.
 */

import { OBSERVABLES } from '../../core/causes/index.ts';
import { inputError } from '../../core/errors.ts';
import type { CurrentSeen, FramesSeen } from './context.ts';
import { type Finding, finding } from './finding.ts';

const FROM = 'current trace';
/** Regime, in the words of the trace reader → form of the current by weight; null where it says nothing of a spray. Judgement. */
const FORMS: Readonly<Record<string, Readonly<Record<string, number>> | null>> = {
  steady: { quiet: 1 },
  'cone-jet': { quiet: 1 },
  'no spray': { quiet: 1 },
  pulsating: { pulses: 3, periodic: 1 },
  'intermittent bursts': { pulses: 2, square: 1 },
  dripping: { pulses: 1, sawtooth: 1 },
  'unsteady jet': { noisy: 2, steps: 1 },
  tilted: { noisy: 1, steps: 1 },
  'several jets': { steps: 2, noisy: 1 },
  discharge: { noisy: 1, pulses: 1 },
  'leak only': null,
  'pick-up': null,
};
/** Multiples of the expected current between the answers; the plan knows the current to about a factor 1.4. */
const NONE = 0.05;
const LOWER = 0.7;
const HIGHER = 1.4;
const MICRO = 3;
const SIZE = 0.8;

export function currentFindings({ regime, probability, multipleOfExpected }: CurrentSeen): Finding[] {
  checked('probability of the regime', probability, 0, 1);
  const found: Finding[] = [];
  const form = Object.hasOwn(FORMS, regime) ? FORMS[regime] : undefined;
  if (form === undefined)
    throw inputError('unknown', 'regime', regime.slice(0, 60), `one of ${Object.keys(FORMS).join(', ')}`);
  if (form)
    found.push(
      finding(
        'current-form',
        form,
        probability,
        FROM,
        `current trace: ${regime} (${Math.round(100 * probability)} %).`,
      ),
    );
  if (multipleOfExpected !== undefined) {
    checked('current over the expected one', multipleOfExpected, 0, 1e6);
    const outcome =
      multipleOfExpected < NONE
        ? 'none'
        : multipleOfExpected < LOWER
          ? 'lower'
          : multipleOfExpected <= HIGHER
            ? 'usual'
            : multipleOfExpected <= MICRO
              ? 'higher'
              : 'micro';
    found.push(
      finding(
        'current',
        outcome,
        SIZE,
        FROM,
        `current trace: ${multipleOfExpected.toPrecision(2)} times the current that the plan expects.`,
      ),
    );
  }
  return found;
}

export function framesFindings({ meniscus, probability }: FramesSeen): Finding[] {
  checked('probability of the meniscus', probability, 0, 1);
  const outcomes = OBSERVABLES.find(({ id }) => id === 'meniscus')!.outcomes;
  const seen = outcomes.find(({ id }) => id === meniscus);
  if (seen === undefined)
    throw inputError('unknown', 'meniscus', meniscus, `one of ${outcomes.map(({ id }) => id).join(', ')}`);
  return [
    finding(
      'meniscus',
      meniscus,
      probability,
      'frames',
      `frames: ${seen.words} (${Math.round(100 * probability)} %).`,
    ),
  ];
}

function checked(what: string, value: number, low: number, high: number): void {
  if (!(value >= low && value <= high))
    throw inputError('out of range', what, `${value}`, `a number from ${low} to ${high}`);
}
