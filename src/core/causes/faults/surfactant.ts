import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'surfactant',
  name: 'surfactant, polymer, salt or detergent in the sample',
  family: 'liquid composition',
  prior: 3,
  signs: {
    level: { lower: 8 },
    scatter: { larger: 6, usual: 4 },
    'odd-ions': { polymer: 6, salt: 4 },
    since: { sample: 9.5 },
    background: { up: 4, stay: 4 },
    current: { usual: 4, higher: 6 },
    'current-form': { noisy: 6, quiet: 4 },
    pressure: { usual: 7, rising: 3 },
    meniscus: { flooded: 6, cone: 4 },
    'fresh-liquid': { same: 4, normal: 6 },
    swap: { cured: 6, same: 4 },
    blank: { there: 9 },
    range: { part: 6, all: 4 },
  },
  lookAlikes: [
    {
      fault: 'suppression-or-valley',
      separatedBy: 'since',
      words: 'contamination comes with a new kind of sample',
    },
    { fault: 'column-bleed', separatedBy: 'since', words: 'it came with a sample' },
  ],
  actions: [
    { gate: 'none', words: 'Stop the queue: it dirties column and tip.' },
    { gate: 'none', words: 'Wash with 80 to 95 % organic or 2-propanol.' },
    { gate: 'pressure off', words: 'A new tip; clean the samples up.' },
  ],
  numbers: 'Surfactant wets the outside for hours.',
  sources: ['common practice, no source'],
};
