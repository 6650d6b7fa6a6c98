import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'high-voltage-off',
  name: 'high voltage off, source opened or not ready',
  family: 'inside the instrument',
  prior: 3,
  signs: {
    level: { none: 9 },
    fill: { maximum: 9 },
    shape: { step: 5, none: 5 },
    when: { onset: 8, throughout: 2 },
    background: { together: 9 },
    current: { none: 9.5 },
    'current-form': { steps: 4, quiet: 6 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 8, flooded: 2 },
    'state-log': { standby: 9.5 },
    'read-back': { below: 8, equal: 2 },
    swap: { same: 9.5 },
    trend: { sudden: 8 },
  },
  lookAlikes: [
    { fault: 'full-clog', separatedBy: 'pressure', words: 'the pressure rises with a clog' },
    { fault: 'dried-tip', separatedBy: 'meniscus', words: 'a bead hangs when only the voltage is missing' },
  ],
  actions: [
    { gate: 'none', words: "Look at the instrument's state." },
    {
      gate: 'raise',
      words: 'Voltage on before the run, then wait, then inject; the interlock stays as it is.',
    },
    { gate: 'hands off power', words: 'Dry the shank: it may have flooded meanwhile.' },
  ],
  numbers: 'Zeros for 0.1 to 2 min at the start of the run only.',
  sources: ['common practice, no source'],
};
