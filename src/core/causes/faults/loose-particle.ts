import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'loose-particle',
  name: 'loose particle that lodges and lets go',
  family: 'liquid supply',
  prior: 3,
  signs: {
    level: { usual: 6, lower: 4 },
    scatter: { usual: 5, larger: 5 },
    shape: { square: 9 },
    trend: { none: 6, sudden: 3 },
    when: { random: 9 },
    period: { none: 9 },
    background: { together: 9 },
    'current-form': { square: 8, noisy: 2 },
    pressure: { usual: 6, jagged: 4 },
    meniscus: { plug: 6, cone: 4 },
    swap: { cured: 9 },
    tap: { no: 9.5 },
  },
  lookAlikes: [
    { fault: 'air-bubble', separatedBy: 'shape', words: 'a bubble ends in an overshoot' },
    {
      fault: 'loose-contact',
      separatedBy: 'tap',
      words: 'touching the contact changes a loose contact only',
    },
  ],
  actions: [
    { gate: 'none', words: 'Note the spacing: random spacing speaks for a particle.' },
    { gate: 'raise', words: 'Flush at high organic, voltage off, below the pressure rating.' },
    {
      gate: 'pressure off',
      words: 'Replace the tip and find the source: rotor seal, frit fines, sleeve shavings.',
    },
  ],
  numbers:
    'Dropouts of 0.5 to 60 s, sharp at both edges, full recovery; pressure sawtooth of 1 to 20 bar only below 2 µm of open bore.',
  sources: ['common practice, no source'],
};
