import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'voltage-high',
  name: 'voltage too high: tilted or several jets',
  family: 'voltage and electrics',
  prior: 5,
  settle: true,
  signs: {
    'plan-voltage': { above: 7, inside: 3 },
    level: { usual: 5, lower: 3, higher: 2 },
    scatter: { larger: 9 },
    shape: { step: 4, none: 4, wander: 2 },
    'odd-ions': { air: 5, none: 5 },
    current: { higher: 9 },
    'current-form': { steps: 6, noisy: 4 },
    pressure: { usual: 9.5 },
    meniscus: { several: 6, tilted: 4 },
    lower: { better: 9.5 },
    raise: { worse: 8, same: 2 },
    swap: { same: 7, cured: 3 },
    when: { throughout: 6, end: 4 },
  },
  lookAlikes: [
    { fault: 'voltage-low', separatedBy: 'lower', words: 'less voltage helps when it is too high' },
    { fault: 'fibre', separatedBy: 'lower', words: 'less voltage removes a second jet' },
    { fault: 'tip-broken', separatedBy: 'lower', words: 'less voltage does not mend a chip' },
  ],
  actions: [
    { gate: 'knob', words: '50 to 100 V down until one jet stands, then another 50.' },
    { gate: 'knob', words: 'Lower at the organic end.' },
    { gate: 'hands off power', words: 'A larger distance, voltage off for the move.' },
  ],
  numbers: 'Jets multiply at roughly 1.3 to 1.6 times the onset (common practice).',
  sources: ['common practice, no source'],
};
