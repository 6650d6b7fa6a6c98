import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'packing-bleeds',
  name: 'packing bleeds from a packed tip',
  family: 'tip',
  prior: 1,
  signs: {
    age: { old: 6, middle: 4 },
    level: { lower: 8 },
    scatter: { larger: 8 },
    shape: { square: 5, none: 4 },
    trend: { hours: 6, weeks: 4 },
    retention: { broad: 9 },
    'current-form': { noisy: 8 },
    current: { lower: 5, usual: 5 },
    pressure: { low: 5, rising: 4 },
    meniscus: { plug: 5, crust: 1, cone: 4 },
    swap: { cured: 9 },
  },
  lookAlikes: [
    { fault: 'partial-clog', separatedBy: 'retention', words: 'a clog leaves peak shapes alone' },
    { fault: 'column-ageing-void', separatedBy: 'swap', words: 'a new packed tip cures its own packing' },
  ],
  actions: [
    { gate: 'none', words: 'Stop pressure shocks: slow ramps.' },
    { gate: 'knob', words: 'Stay below the packing pressure.' },
    { gate: 'pressure off', words: 'Replace.' },
  ],
  numbers: 'Grains at the rim, a void at the head.',
  sources: ['common practice, no source'],
};
