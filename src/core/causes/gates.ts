/** What a person does before a hand or a knob moves, in order. The local rules and trained staff come before all of this. */
import type { SafetyGate } from './types.ts';

export const GATE_STEPS: Readonly<Record<SafetyGate, readonly string[]>> = {
  none: [],
  knob: ['Only a setting is turned, nothing is touched. Lowering is always allowed.'],
  raise: [
    'Hands clear of the source? Nobody near it?',
    "A raise needs your yes: stay below the discharge limit, the supply's limit and the ratings of glass and fittings.",
  ],
  'hands off power': [
    'High voltage off.',
    'Read back 0 V.',
    'Wait for the supply to bleed down.',
    'Ground the contact, then touch. A bead or a wet line is live back to the next grounded fitting: never wipe it with the voltage on.',
    'Goggles and gloves; glass into the sharps container. A hot inlet first goes to standby and cools. Exhaust on: vapour, and sample as aerosol.',
  ],
  'pressure off': [
    'High voltage off, read back 0 V, wait, ground the contact.',
    'Flow off, pressure below 5 bar before any fitting is opened: a line under pressure blows out of its sleeve.',
    'Goggles and gloves; glass into the sharps container; solvents away from hot parts and from a discharge, exhaust on.',
  ],
};

export const STOP_RULE =
  'Stop and call a trained person: smell of ozone or burning, a spark you cannot explain, liquid on the supply, broken glass in skin or eye, a second failed attempt at the same step, or when you are too tired to read the display.';

export const LOCAL_RULES =
  'Local rules and trained staff come before this page. Interlocks stay as they are.';
