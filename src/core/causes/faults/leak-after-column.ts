import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'leak-after-column',
  name: 'leak between column and emitter',
  family: 'liquid supply',
  prior: 4,
  signs: {
    level: { lower: 9 },
    scatter: { larger: 5, usual: 5 },
    shape: { none: 5, sawtooth: 2, wander: 3 },
    background: { usual: 3, together: 4, up: 3 },
    current: { lower: 9 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 5, cone: 4 },
    holder: { wet: 8, dry: 2 },
    tissue: { spot: 9 },
    retention: { usual: 9 },
    since: { handling: 6, nothing: 3 },
    swap: { same: 5, cured: 5 },
  },
  lookAlikes: [
    { fault: 'partial-clog', separatedBy: 'tissue', words: 'a spot on the tissue means a leak' },
    { fault: 'inlet-dirty', separatedBy: 'tissue', words: 'a spot on the tissue means a leak' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Voltage off: the bead at the union is at high voltage.' },
    { gate: 'pressure off', words: 'Cut square and seat anew with a new sleeve.' },
    { gate: 'pressure off', words: 'Do not tighten further: that crushes the sleeve. Replace it.' },
  ],
  numbers:
    'The current goes as the square root of the flow: half the flow gives 0.71 of the current. 300 nL/min leave 1.5 µL in 5 min.',
  sources: ['common practice, no source'],
};
