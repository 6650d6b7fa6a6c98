import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'climate',
  name: 'humidity or room climate',
  family: 'position, gas, inlet',
  prior: 2,
  signs: {
    level: { usual: 5, lower: 5 },
    scatter: { usual: 6, larger: 4 },
    trend: { weeks: 6, hours: 4 },
    shape: { wander: 6, none: 4 },
    current: { usual: 5, higher: 5 },
    'leak-current': { some: 4, nothing: 6 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 6, crust: 2, flooded: 2 },
    since: { climate: 9 },
    climate: { follows: 9.5 },
    'other-tips': { yes: 8, no: 2 },
    swap: { same: 9 },
  },
  lookAlikes: [
    { fault: 'ageing', separatedBy: 'climate', words: 'ageing does not follow the weather' },
    { fault: 'leakage', separatedBy: 'climate', words: 'leakage alone does not follow the weather' },
  ],
  actions: [
    { gate: 'none', words: 'Log humidity and temperature.' },
    { gate: 'none', words: 'Keep 30 to 55 % relative humidity.' },
    { gate: 'none', words: 'Plot onset and leakage against both for two weeks.' },
  ],
  numbers: 'Below 25 % crusts and charging, above 60 % leakage and a wet inlet (common practice).',
  sources: ['common practice, no source'],
};
