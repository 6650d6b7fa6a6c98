import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'sample-plug',
  name: 'plug from the sample',
  family: 'liquid supply',
  prior: 2,
  signs: {
    level: { lower: 8, none: 2 },
    scatter: { larger: 8 },
    trend: { hours: 8, sudden: 2 },
    'odd-ions': { salt: 7, none: 3 },
    current: { higher: 5, lower: 4 },
    'current-form': { noisy: 8 },
    meniscus: { plug: 6, crust: 3 },
    since: { sample: 8 },
    dilute: { calm: 7, same: 3 },
    'gas-up': { same: 6, returns: 4 },
    swap: { cured: 9 },
    background: { together: 7 },
  },
  lookAlikes: [
    {
      fault: 'static-dry',
      separatedBy: 'dilute',
      words: 'buffer or a diluted sample is calm after a sample plug',
    },
    {
      fault: 'partial-clog',
      separatedBy: 'since',
      words: 'a sample plug comes with a new sample within minutes',
    },
  ],
  actions: [
    { gate: 'none', words: 'Spin or exchange the buffer again.' },
    {
      gate: 'hands off power',
      words: 'A larger tip for viscous samples; smaller tips bear more salt but clog faster.',
    },
    { gate: 'hands off power', words: 'A new emitter: one emitter, one sample.' },
  ],
  numbers: 'Good for 1 to 10 min, then adducts widen and the signal goes.',
  sources: ['Susa et al. 2017 (from memory)', 'common practice, no source'],
};
