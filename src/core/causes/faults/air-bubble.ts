import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'air-bubble',
  name: 'one air bubble passes',
  family: 'liquid supply',
  prior: 3,
  signs: {
    level: { usual: 9 },
    scatter: { usual: 9 },
    shape: { overshoot: 9, square: 1 },
    period: { none: 9.5 },
    when: { random: 8, fixed: 2 },
    background: { together: 9 },
    'current-form': { pulses: 6, square: 3 },
    pressure: { usual: 7, jagged: 3 },
    meniscus: { cone: 7, bubbles: 3 },
    blank: { gone: 6, there: 4 },
  },
  lookAlikes: [
    { fault: 'loose-particle', separatedBy: 'shape', words: 'a particle leaves no overshoot' },
    { fault: 'trapped-air', separatedBy: 'pressure', words: 'trapped air lets the pressure settle slowly' },
  ],
  actions: [
    { gate: 'none', words: 'Nothing; note it.' },
    { gate: 'none', words: 'After an injection: look at needle and loop filling.' },
    { gate: 'none', words: 'If it repeats: look for trapped air or gas coming out of solution.' },
  ],
  numbers: 'The gap lasts volume over flow: 5 nL are 1 s at 300 nL/min and 15 s at 20 nL/min.',
  sources: ['computed', 'common practice, no source'],
};
