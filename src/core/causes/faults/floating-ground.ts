import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'floating-ground',
  name: 'floating or missing ground upstream',
  family: 'voltage and electrics',
  prior: 2,
  signs: {
    level: { usual: 5, lower: 5 },
    scatter: { usual: 5, larger: 5 },
    shape: { wander: 8 },
    trend: { hours: 4, none: 6 },
    current: { higher: 9 },
    'current-form': { noisy: 5, quiet: 5 },
    'leak-current': { some: 9 },
    pressure: { jagged: 5, usual: 5 },
    meniscus: { cone: 9 },
    'contact-at-tip': { gone: 6, same: 4 },
    'voltage-off': { stop: 3, none: 7 },
    swap: { same: 9.5 },
    'other-tips': { yes: 8, no: 2 },
  },
  lookAlikes: [
    { fault: 'leakage', separatedBy: 'holder', words: 'leakage over a wet holder is seen' },
    {
      fault: 'electrolysis-gas',
      separatedBy: 'voltage-off',
      words: 'bubbles that stop with the voltage speak for electrolysis',
    },
  ],
  actions: [
    { gate: 'hands off power', words: 'One ground point between pump and junction.' },
    { gate: 'pressure off', words: 'Lengthen or narrow the path.' },
    { gate: 'none', words: 'Measure the current on the inlet side and subtract the leakage.' },
  ],
  numbers: 'With 2 kV and a 1.9 GΩ column about 1 µA flows back, five times the spray.',
  sources: ['computed', 'common practice, no source'],
};
