import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'pump-not-delivering',
  name: 'pump not delivering',
  family: 'liquid supply',
  prior: 2,
  signs: {
    level: { lower: 5, none: 5 },
    scatter: { larger: 7 },
    trend: { hours: 6, sudden: 4 },
    shape: { wander: 4, none: 4, step: 2 },
    retention: { late: 9 },
    current: { lower: 5, none: 4 },
    'current-form': { pulses: 5, noisy: 4 },
    pressure: { low: 8, slow: 2 },
    meniscus: { nothing: 6, rounded: 4 },
    effluent: { less: 9.5 },
    background: { together: 6, stay: 3 },
    'other-tips': { yes: 6, no: 4 },
    swap: { same: 9.5 },
  },
  lookAlikes: [
    {
      fault: 'leak-before-column',
      separatedBy: 'effluent',
      words: 'a leak leaves the delivered flow as set',
    },
    { fault: 'static-dry', separatedBy: 'effluent', words: 'a static emitter has no pump' },
  ],
  actions: [
    { gate: 'none', words: 'Bottle levels and filters.' },
    { gate: 'pressure off', words: 'Purge.' },
    { gate: 'pressure off', words: 'Time the effluent in a graduated capillary.' },
  ],
  numbers: '300 nL/min fill 1 µL in 200 s.',
  sources: ['computed', 'common practice, no source'],
};
