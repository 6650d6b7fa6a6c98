import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'trapped-air',
  name: 'air trapped in a union',
  family: 'liquid supply',
  prior: 2,
  signs: {
    age: { fresh: 6, middle: 4 },
    level: { usual: 5, lower: 4 },
    scatter: { larger: 6, usual: 4 },
    shape: { wander: 9, overshoot: 1 },
    trend: { none: 7 },
    when: { random: 6, fixed: 3, end: 1 },
    retention: { late: 5, usual: 5 },
    'current-form': { noisy: 8 },
    pressure: { slow: 9 },
    meniscus: { cone: 5, rounded: 3, bubbles: 3 },
    since: { handling: 8 },
    swap: { same: 7, cured: 3 },
  },
  lookAlikes: [
    {
      fault: 'pump-pulsation',
      separatedBy: 'pressure',
      words: 'a pump swings the pressure in step; trapped air lets it settle slowly',
    },
    {
      fault: 'pump-not-delivering',
      separatedBy: 'effluent',
      words: 'the delivered flow is as set with trapped air',
    },
  ],
  actions: [
    { gate: 'raise', words: 'High flow at high organic for 10 min, voltage off, within the rating.' },
    { gate: 'pressure off', words: 'Make the union anew, liquid to liquid.' },
    { gate: 'pressure off', words: 'Shorten the piece, cut flat.' },
  ],
  numbers: 'Wander of 10 s to 10 min; a gas pocket decays for more than 30 s after the flow stops.',
  sources: ['common practice, no source'],
};
