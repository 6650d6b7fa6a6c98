import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'drop-in-column-voltage',
  name: 'voltage lost in the liquid before the tip',
  family: 'voltage and electrics',
  prior: 4,
  settle: true,
  signs: {
    'plan-voltage': { below: 6, inside: 4 },
    level: { lower: 6, usual: 4 },
    scatter: { larger: 8 },
    when: { end: 6, start: 2, fixed: 2 },
    shape: { none: 6, wander: 2, ripple: 2 },
    current: { lower: 8 },
    'current-form': { pulses: 6, noisy: 4 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 7, cone: 3 },
    'contact-at-tip': { gone: 9.5 },
    raise: { better: 8, same: 2 },
    'hold-end': { same: 8, calm: 2 },
    swap: { same: 9 },
    'other-tips': { yes: 7, no: 3 },
  },
  lookAlikes: [
    {
      fault: 'organic-end',
      separatedBy: 'hold-end',
      words: 'less voltage calms the organic end, more calms a lost voltage',
    },
    { fault: 'ageing', separatedBy: 'when', words: 'a lost voltage follows the composition' },
    { fault: 'tip-wetted', separatedBy: 'when', words: 'wetting does not follow the composition' },
  ],
  actions: [
    { gate: 'pressure off', words: 'Contact nearer to the tip.' },
    { gate: 'raise', words: 'A voltage ramp with the composition, confirmed by a person.' },
    { gate: 'none', words: 'Acid in bottle B too (0.1 %).' },
  ],
  numbers:
    '20 µm x 50 mm with 0.1 % aqueous formic acid is 1.9 GΩ: 380 V at 200 nA; more organic, more ohms.',
  sources: ['Jackson & Enke 1999, Anal. Chem. 71, 3777 (read (abstract))', 'computed'],
};
