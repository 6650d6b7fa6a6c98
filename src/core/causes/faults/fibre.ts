import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'fibre',
  name: 'fibre, dust or whisker at the tip',
  family: 'tip',
  prior: 2,
  signs: {
    level: { lower: 7, usual: 3 },
    scatter: { larger: 9 },
    trend: { sudden: 8 },
    current: { higher: 7, usual: 3 },
    'current-form': { noisy: 8 },
    pressure: { usual: 9.5 },
    meniscus: { fibre: 9 },
    lower: { same: 7, better: 3 },
    since: { handling: 6, climate: 2, nothing: 3 },
    swap: { cured: 9 },
  },
  lookAlikes: [
    { fault: 'voltage-high', separatedBy: 'lower', words: 'a second jet goes at 100 V less, a fibre stays' },
  ],
  actions: [
    { gate: 'hands off power', words: 'A puff of gas, voltage off.' },
    { gate: 'hands off power', words: 'Rinse.' },
    { gate: 'none', words: 'Never wipe with paper.' },
  ],
  numbers: 'A hair stands along the field and gives a second spray direction.',
  sources: ['common practice, no source'],
};
