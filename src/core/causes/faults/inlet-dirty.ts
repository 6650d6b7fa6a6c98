import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'inlet-dirty',
  name: 'inlet contaminated',
  family: 'position, gas, inlet',
  prior: 4,
  signs: {
    level: { lower: 9.5 },
    scatter: { usual: 9 },
    shape: { none: 9 },
    trend: { weeks: 9 },
    fill: { longer: 9 },
    background: { together: 6, usual: 3 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9.5 },
    swap: { same: 9.5 },
    'other-tips': { yes: 9.5 },
    reference: { low: 9.5 },
    nudge: { same: 9 },
    polarity: { both: 7, 'after-switch': 3 },
    vacuum: { logged: 6, off: 4 },
  },
  lookAlikes: [
    { fault: 'offset-drift', separatedBy: 'nudge', words: 'a move does not help a dirty inlet' },
    { fault: 'detector', separatedBy: 'calibrant', words: "the instrument's check tells inlet from inside" },
    {
      fault: 'mobile-phase-wrong',
      separatedBy: 'fresh-liquid',
      words: 'fresh liquid does not clean an inlet',
    },
  ],
  actions: [
    { gate: 'none', words: 'Flush with organic and acid through the spray.' },
    { gate: 'hands off power', words: 'Clean cooled parts by the manual, trained staff, gloves.' },
    { gate: 'none', words: 'Compare with the reference ion flux afterwards.' },
  ],
  numbers: 'Days to weeks, the same for every emitter.',
  sources: ['common practice, no source'],
};
