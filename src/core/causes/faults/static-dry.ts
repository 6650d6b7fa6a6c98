import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'static-dry',
  name: 'static emitter runs dry or loses its gas pressure',
  family: 'liquid supply',
  prior: 2,
  signs: {
    level: { lower: 6, none: 4 },
    scatter: { larger: 9 },
    trend: { hours: 5, sudden: 4 },
    when: { end: 2, throughout: 6 },
    current: { lower: 8, none: 2 },
    'current-form': { noisy: 6, pulses: 3 },
    meniscus: { nothing: 8, rounded: 2 },
    'gas-up': { returns: 9 },
    background: { together: 9 },
    swap: { cured: 8 },
  },
  lookAlikes: [
    { fault: 'sample-plug', separatedBy: 'meniscus', words: 'a starved tip is empty, a plugged one hazy' },
    { fault: 'static-no-start', separatedBy: 'trend', words: 'a tip that never started shows no fall' },
  ],
  actions: [
    { gate: 'raise', words: "Gas pressure up to 0.5 to 1 bar, within the emitter's rating." },
    { gate: 'hands off power', words: 'Refill.' },
    { gate: 'hands off power', words: 'Look at the ferrule seal.' },
  ],
  numbers: '2 to 5 µL at 20 to 40 nL/min last 50 to 250 min.',
  sources: [
    'Ryan, Smith & Stark 2014, Appl. Phys. Lett. 104, 084101 (read (abstract)): flow rises with voltage',
    'Wilm & Mann 1996 (from memory)',
    'computed',
  ],
};
