import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'loose-contact',
  name: 'loose high-voltage or liquid contact',
  family: 'voltage and electrics',
  prior: 3,
  signs: {
    level: { lower: 4, usual: 5, none: 1 },
    scatter: { larger: 7 },
    shape: { square: 9 },
    period: { none: 9 },
    when: { random: 9 },
    background: { together: 9 },
    'current-form': { square: 9 },
    current: { usual: 5, lower: 3, none: 2 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 6, cone: 4 },
    tap: { yes: 9.5 },
    since: { handling: 7 },
    swap: { same: 6, cured: 4 },
    'read-back': { equal: 9 },
  },
  lookAlikes: [
    {
      fault: 'current-limit',
      separatedBy: 'read-back',
      words: 'a supply in its limit reads below its set value',
    },
    { fault: 'loose-particle', separatedBy: 'tap', words: 'touching the contact does not move a particle' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Seat it anew, voltage off.' },
    { gate: 'hands off power', words: 'Clean the clamp.' },
    { gate: 'hands off power', words: 'New wire or contact.' },
  ],
  numbers: 'Random on and off that follows touching, vibration, the door; a burst after each pause.',
  sources: ['common practice, no source'],
};
