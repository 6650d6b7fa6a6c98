import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'dried-tip',
  name: 'dried tip or salt crust after idling',
  family: 'tip',
  prior: 4,
  signs: {
    level: { none: 5, lower: 5 },
    scatter: { larger: 9 },
    trend: { sudden: 6, none: 4 },
    fill: { maximum: 5, longer: 5 },
    current: { none: 5, lower: 3 },
    'current-form': { pulses: 7, noisy: 3 },
    pressure: { rising: 5, usual: 5 },
    meniscus: { crust: 9 },
    since: { idle: 9.5 },
    when: { onset: 5, throughout: 5 },
    swap: { cured: 9 },
    background: { together: 6, stay: 2 },
    'odd-ions': { salt: 3, air: 2, none: 5 },
  },
  lookAlikes: [
    { fault: 'full-clog', separatedBy: 'since', words: 'a crust follows a pause' },
    { fault: 'corona-positive', separatedBy: 'meniscus', words: 'a crust is seen at the rim' },
  ],
  actions: [
    {
      gate: 'hands off power',
      words: 'Voltage off, flow on, dip the tip in 50 % methanol with 1 % acid for 1 to 5 min.',
    },
    { gate: 'hands off power', words: 'Warm water for salts, organic for lipids.' },
    { gate: 'pressure off', words: 'Never wipe; after 20 min replace.' },
  ],
  numbers:
    'A stopped acid aqueous tip dries within minutes, a salty one within a minute. Prevent: keep 50 to 100 nL/min flowing at a reduced voltage, or park in liquid.',
  sources: ['common practice, no source'],
};
