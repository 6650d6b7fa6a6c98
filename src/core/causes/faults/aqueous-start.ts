import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'aqueous-start',
  name: 'aqueous start of the gradient',
  family: 'liquid composition',
  prior: 4,
  settle: true,
  signs: {
    'plan-voltage': { below: 6, inside: 4 },
    level: { lower: 6, usual: 4 },
    scatter: { larger: 8 },
    when: { start: 9.5 },
    shape: { none: 5, sawtooth: 2, spikes: 2, ripple: 1 },
    fill: { longer: 8 },
    'current-form': { pulses: 8 },
    current: { lower: 6, usual: 4 },
    pressure: { usual: 9 },
    meniscus: { rounded: 9 },
    'hold-start': { ragged: 9.5 },
    raise: { better: 8, same: 2 },
    swap: { same: 8 },
    'other-tips': { yes: 7, no: 3 },
  },
  lookAlikes: [
    {
      fault: 'switching-transient',
      separatedBy: 'hold-start',
      words: 'a held start composition stays ragged when it is the composition',
    },
    {
      fault: 'high-voltage-off',
      separatedBy: 'hold-start',
      words: 'with the voltage on from the first second the start is the composition',
    },
  ],
  actions: [
    { gate: 'raise', words: 'Start 10 to 30 % higher and come down, confirmed by a person.' },
    { gate: 'none', words: 'Start at 3 to 5 % organic.' },
    { gate: 'hands off power', words: 'A smaller rim or a drier outside.' },
  ],
  numbers: 'Water against rich organic: onset ratio about 1.55; ragged for 5 to 30 min.',
  sources: ['computed', 'Hahne et al. 2013 (from memory): dimethyl sulfoxide'],
};
