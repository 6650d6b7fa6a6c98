import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'leakage',
  name: 'current over a wet or dirty holder',
  family: 'voltage and electrics',
  prior: 2,
  signs: {
    level: { lower: 8 },
    scatter: { usual: 5, larger: 5 },
    trend: { hours: 5, sudden: 5 },
    current: { higher: 5, micro: 5 },
    'current-form': { noisy: 6, quiet: 4 },
    'leak-current': { some: 9.5 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 4, rounded: 6 },
    holder: { wet: 8, dry: 2 },
    raise: { same: 9 },
    lower: { same: 9 },
    'read-back': { equal: 5, below: 5 },
    swap: { same: 8, cured: 2 },
  },
  lookAlikes: [
    { fault: 'floating-ground', separatedBy: 'holder', words: 'a wet holder is seen' },
    { fault: 'ageing', separatedBy: 'leak-current', words: 'a current without liquid is leakage' },
  ],
  actions: [
    {
      gate: 'hands off power',
      words: 'Voltage off, flow off, dry; then voltage without liquid: below 1 to 5 nA.',
    },
    { gate: 'hands off power', words: 'Clean with 2-propanol, let it dry.' },
    { gate: 'hands off power', words: 'Replace the insulating sleeve.' },
  ],
  numbers: 'Hours after a leak the voltage no longer has an effect.',
  sources: ['common practice, no source'],
};
