import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'coating-swells',
  name: 'polymer coating swells past the glass',
  family: 'tip',
  prior: 1,
  signs: {
    age: { middle: 5, old: 5 },
    level: { lower: 9 },
    scatter: { larger: 5, usual: 5 },
    trend: { weeks: 9 },
    shape: { wander: 5, none: 5 },
    current: { usual: 9 },
    'current-form': { noisy: 6, quiet: 4 },
    pressure: { usual: 9.5 },
    meniscus: { collar: 9 },
    swap: { cured: 9 },
    'other-tips': { yes: 4, no: 6 },
  },
  lookAlikes: [
    { fault: 'tip-wetted', separatedBy: 'meniscus', words: 'a collar is seen, not a film' },
    { fault: 'ageing', separatedBy: 'meniscus', words: 'a collar is seen' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Strip 2 to 5 mm before cutting, by trained staff.' },
    { gate: 'none', words: 'Never let it run dry and hot.' },
    { gate: 'hands off power', words: 'A metal or bare tip.' },
  ],
  numbers: 'A trim of 2 to 5 mm cures at once and the fault returns on the same interval.',
  sources: ['common practice, no source'],
};
