import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'mobile-phase-wrong',
  name: 'wrong or old mobile phase, acid missing',
  family: 'liquid composition',
  prior: 3,
  signs: {
    level: { lower: 9 },
    scatter: { usual: 8, larger: 2 },
    shape: { none: 9 },
    trend: { sudden: 9 },
    since: { bottle: 9.5 },
    retention: { late: 4, usual: 4, broad: 2 },
    current: { lower: 8, higher: 1 },
    'current-form': { quiet: 8 },
    pressure: { usual: 9 },
    meniscus: { cone: 8, rounded: 2 },
    'fresh-liquid': { normal: 9.5 },
    'other-tips': { yes: 9 },
    swap: { same: 9.5 },
    'odd-ions': { salt: 4, none: 6 },
  },
  lookAlikes: [
    {
      fault: 'inlet-dirty',
      separatedBy: 'fresh-liquid',
      words: 'fresh solvent is normal when the bottle was wrong',
    },
    { fault: 'ageing', separatedBy: 'since', words: 'a bottle change dates it' },
  ],
  actions: [
    { gate: 'none', words: 'Date the bottles.' },
    { gate: 'none', words: 'Make it anew.' },
    { gate: 'pressure off', words: 'Check by infusing fresh solvent.' },
  ],
  numbers: 'A steady spray at an unusual voltage since the last change of bottles.',
  sources: ['common practice, no source'],
};
