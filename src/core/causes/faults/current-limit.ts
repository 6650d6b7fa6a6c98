import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'current-limit',
  name: 'supply in its current limit',
  family: 'voltage and electrics',
  prior: 2,
  signs: {
    level: { lower: 5, none: 4 },
    scatter: { larger: 8 },
    shape: { ripple: 5, square: 5 },
    period: { subsecond: 6, seconds: 3 },
    'current-form': { square: 9 },
    current: { micro: 5, usual: 3, lower: 2 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 8 },
    'read-back': { below: 9.5 },
    'leak-current': { some: 6, nothing: 4 },
    swap: { same: 7, cured: 3 },
  },
  lookAlikes: [
    { fault: 'loose-contact', separatedBy: 'period', words: 'a supply hiccups regularly' },
    { fault: 'voltage-low', separatedBy: 'read-back', words: 'the supply reads below its set value' },
  ],
  actions: [
    { gate: 'none', words: 'Read the actual voltage beside the set one.' },
    { gate: 'hands off power', words: 'Dry and clean, voltage off.' },
    { gate: 'knob', words: 'Find the leakage; the limit itself stays where local rules put it.' },
  ],
  numbers: 'Hiccups of 0.1 to 2 s.',
  sources: ['common practice, no source'],
};
