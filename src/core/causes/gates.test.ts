/** Every caution of the trade stands where the hand would be: the gates before a touch, the stop rule, the rules that come first. */
import { expect, it } from 'vitest';
import { GATE_STEPS, LOCAL_RULES, STOP_RULE } from './gates.ts';

it.each([
  ['hands off power', /High voltage off/],
  ['hands off power', /Read back 0 V/],
  ['hands off power', /Wait/],
  ['hands off power', /Ground the contact, then touch/],
  ['hands off power', /never wipe it with the voltage on/],
  ['hands off power', /Goggles and gloves; glass into the sharps container/],
  ['hands off power', /hot inlet first goes to standby and cools/],
  ['hands off power', /Exhaust on: vapour, and sample as aerosol/],
  ['pressure off', /High voltage off, read back 0 V, wait, ground/],
  ['pressure off', /pressure below 5 bar before any fitting is opened/],
  ['pressure off', /solvents away from hot parts and from a discharge/],
  ['raise', /Hands clear of the source\?/],
  ['raise', /A raise needs your yes/],
  ['knob', /Lowering is always allowed/],
] as const)('%s: %s', (gate, words) => {
  expect(GATE_STEPS[gate].join('\n')).toMatch(words);
});

it('stops at ozone, sparks, glass and tiredness, and leaves interlocks as they are', () => {
  for (const words of [/ozone/, /spark/, /broken glass/, /too tired/, /second failed attempt/])
    expect(STOP_RULE).toMatch(words);
  expect(LOCAL_RULES).toMatch(/Interlocks stay as they are/);
  expect(LOCAL_RULES).toMatch(/Local rules and trained staff/);
});
