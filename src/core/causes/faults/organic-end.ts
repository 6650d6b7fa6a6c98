import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'organic-end',
  name: 'organic end of the gradient (wash)',
  family: 'liquid composition',
  prior: 4,
  settle: true,
  signs: {
    'plan-voltage': { above: 6, inside: 4 },
    level: { higher: 6, usual: 4 },
    scatter: { larger: 8 },
    when: { end: 9.5 },
    current: { usual: 4, lower: 6 },
    'current-form': { noisy: 6, steps: 4 },
    pressure: { usual: 9 },
    meniscus: { several: 4, tilted: 6 },
    'hold-end': { calm: 9.5 },
    lower: { better: 8, same: 2 },
    background: { up: 8 },
    swap: { same: 9 },
    'other-tips': { yes: 8, no: 2 },
  },
  lookAlikes: [
    { fault: 'column-bleed', separatedBy: 'scatter', words: 'bleed leaves the scatter alone' },
    {
      fault: 'drop-in-column-voltage',
      separatedBy: 'hold-end',
      words: 'a lost voltage needs more, not less',
    },
  ],
  actions: [
    { gate: 'knob', words: 'A voltage ramp down by 10 to 30 %.' },
    { gate: 'none', words: 'Leave the wash out of stability metrics.' },
    { gate: 'none', words: 'Judge elution and wash apart.' },
  ],
  numbers: 'The surface tension has halved: the set voltage lies above the window.',
  sources: ['computed', 'common practice, no source'],
};
