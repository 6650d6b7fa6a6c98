import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'leak-before-column',
  name: 'leak before the column',
  family: 'liquid supply',
  prior: 3,
  signs: {
    level: { lower: 8, usual: 2 },
    scatter: { usual: 7 },
    background: { usual: 4, stay: 5 },
    current: { lower: 8 },
    pressure: { low: 9.5 },
    retention: { late: 9, broad: 2 },
    meniscus: { cone: 7, rounded: 3 },
    'hold-pressure': { falls: 9 },
    'other-tips': { yes: 6, no: 4 },
    swap: { same: 9.5 },
    tissue: { dry: 9.5 },
  },
  lookAlikes: [
    { fault: 'column-ageing-void', separatedBy: 'pressure', words: 'the pressure is low with a leak' },
    {
      fault: 'leak-after-column',
      separatedBy: 'pressure',
      words: 'only a leak before the column lowers the pressure',
    },
  ],
  actions: [
    { gate: 'pressure off', words: 'Close each section in turn and read the residual flow.' },
    { gate: 'pressure off', words: 'Make the fitting anew.' },
    { gate: 'pressure off', words: 'Have the valve rotor looked at.' },
  ],
  numbers:
    'Low pressure and late peaks: before the column. Normal pressure and retention with low signal: after the column.',
  sources: ['derived from where the resistance sits', 'common practice, no source'],
};
