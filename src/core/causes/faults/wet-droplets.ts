import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'wet-droplets',
  name: 'big droplets enter the inlet',
  family: 'position, gas, inlet',
  prior: 2,
  settle: true,
  signs: {
    'plan-distance': { near: 6, usual: 4 },
    level: { usual: 7, higher: 2, lower: 1 },
    scatter: { usual: 5, larger: 5 },
    shape: { spikes: 9.5 },
    when: { random: 7, throughout: 3 },
    'odd-ions': { wet: 5, none: 5 },
    current: { usual: 9.5 },
    'current-form': { quiet: 8, noisy: 2 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 7, rounded: 3 },
    offset: { gone: 9.5 },
    background: { up: 5, usual: 5 },
    fill: { irregular: 7 },
    swap: { same: 7 },
  },
  lookAlikes: [
    { fault: 'arcing', separatedBy: 'offset', words: 'more offset does not stop an arc' },
    { fault: 'distance-wrong', separatedBy: 'offset', words: 'more offset removes wet droplets' },
  ],
  actions: [
    { gate: 'hands off power', words: 'More offset.' },
    { gate: 'raise', words: 'A little more voltage or less flow, hands clear.' },
    { gate: 'none', words: 'A hotter inlet, within its method.' },
  ],
  numbers: 'Spikes of 2 to 10 times in a single scan on all channels.',
  sources: ['common practice, no source'],
};
