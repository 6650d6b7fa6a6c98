import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'hanging-drop',
  name: 'hanging drop',
  family: 'tip',
  prior: 4,
  settle: true,
  signs: {
    'plan-voltage': { below: 6, inside: 4 },
    level: { lower: 7, usual: 3 },
    scatter: { larger: 9 },
    shape: { sawtooth: 8, spikes: 2 },
    period: { seconds: 5, minutes: 5 },
    when: { throughout: 7, start: 3 },
    background: { together: 8 },
    fill: { irregular: 6, longer: 4 },
    current: { lower: 6 },
    'current-form': { sawtooth: 4, pulses: 5 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 9 },
    'flow-change': { yes: 9 },
    raise: { better: 6, same: 4 },
    'voltage-off': { none: 9 },
  },
  lookAlikes: [
    { fault: 'pump-pulsation', separatedBy: 'pressure', words: 'a pump moves the pressure' },
    {
      fault: 'electrolysis-gas',
      separatedBy: 'voltage-off',
      words: 'bubbles that stop with the voltage are electrolysis',
    },
  ],
  actions: [
    { gate: 'raise', words: '50 to 100 V up in steps, never past the discharge limit.' },
    {
      gate: 'hands off power',
      words: 'Blow the bead away with the voltage off, restart higher and come back.',
    },
    { gate: 'hands off power', words: 'Nearer, thinner, cleaner, drier outside, or less flow.' },
  ],
  numbers: 'Period π d³/(6 Q): at 300 nL/min 0.1 mm gives 0.10 s, 0.3 mm 2.8 s, 1 mm 105 s.',
  sources: ['computed', 'common practice, no source'],
};
