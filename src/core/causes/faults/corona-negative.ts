import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'corona-negative',
  name: 'corona, negative mode',
  family: 'voltage and electrics',
  prior: 3,
  signs: {
    'plan-voltage': { above: 6, inside: 4 },
    level: { lower: 8 },
    scatter: { larger: 9 },
    'odd-ions': { air: 9.5 },
    background: { stay: 5, together: 3, up: 2 },
    current: { micro: 8, higher: 2 },
    'current-form': { noisy: 8 },
    pressure: { usual: 9.5 },
    meniscus: { glow: 6, nothing: 4 },
    polarity: { negative: 9.5 },
    lower: { better: 9 },
    raise: { worse: 9 },
    swap: { same: 6, cured: 4 },
  },
  lookAlikes: [
    { fault: 'voltage-low', separatedBy: 'odd-ions', words: 'air ions belong to corona' },
    { fault: 'corona-positive', separatedBy: 'polarity', words: 'positive polarity has another threshold' },
  ],
  actions: [
    { gate: 'knob', words: '0.2 to 0.5 kV down: the negative window lies lower and is narrower.' },
    { gate: 'none', words: 'More organic; a gas with oxygen instead of pure nitrogen.' },
    { gate: 'hands off power', words: 'A cleaner, non-metal tip; a larger distance.' },
  ],
  numbers:
    'm/z 60 and 62 rise like a threshold with the voltage; use 70 to 90 % of the positive value (common practice).',
  sources: [
    'Ewing & Waltman 2010, Int. J. Mass Spectrom. 296, 53 (read (abstract))',
    'RSC Adv. 2017, doi 10.1039/c7ra08523k (read (abstract))',
  ],
};
