import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'switching-transient',
  name: 'valve or trap switch, injection transient',
  family: 'liquid supply',
  prior: 3,
  signs: {
    level: { usual: 9 },
    scatter: { usual: 9 },
    shape: { overshoot: 3, step: 1, square: 4, spikes: 2 },
    when: { fixed: 9.5 },
    period: { none: 9 },
    'odd-ions': { salt: 5, none: 5 },
    'current-form': { pulses: 4, quiet: 4, steps: 3 },
    pressure: { jagged: 3, usual: 5, slow: 2 },
    meniscus: { cone: 9 },
    blank: { there: 8, gone: 2 },
    swap: { same: 9.5 },
    'other-tips': { yes: 8, no: 2 },
  },
  lookAlikes: [
    { fault: 'air-bubble', separatedBy: 'when', words: 'the same minute in every run is a switch' },
    {
      fault: 'aqueous-start',
      separatedBy: 'hold-start',
      words: 'a ragged start at held composition is the composition',
    },
  ],
  actions: [
    { gate: 'none', words: 'Mask these minutes in every metric.' },
    { gate: 'none', words: 'Longer desalting.' },
    { gate: 'pressure off', words: 'Divert before the emitter, but keep the tip wet.' },
  ],
  numbers: 'Dips or bursts of 1 to 60 s at a fixed run time.',
  sources: ['common practice, no source'],
};
