import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'union-dead-volume',
  name: 'dead volume or a ragged cut at a union',
  family: 'liquid supply',
  prior: 3,
  signs: {
    age: { fresh: 7, middle: 3 },
    level: { usual: 6, lower: 4 },
    scatter: { usual: 9.5 },
    shape: { none: 9.5 },
    retention: { broad: 9.5 },
    fill: { usual: 9 },
    background: { usual: 9 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { usual: 9 },
    meniscus: { cone: 9.5 },
    reseat: { better: 9 },
    since: { handling: 6 },
    swap: { same: 6, cured: 4 },
  },
  lookAlikes: [
    { fault: 'column-ageing-void', separatedBy: 'reseat', words: 'seating the union anew changes the width' },
    { fault: 'suppression-or-valley', separatedBy: 'retention', words: 'a valley leaves peak widths alone' },
  ],
  actions: [
    { gate: 'none', words: 'Look at the peak width, not at the level.' },
    { gate: 'pressure off', words: 'Cut anew, square.' },
    { gate: 'pressure off', words: 'Replace the sleeve.' },
  ],
  numbers: 'A void of 100 nL is 20 s at 300 nL/min.',
  sources: ['computed', 'common practice, no source'],
};
