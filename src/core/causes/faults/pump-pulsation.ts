import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'pump-pulsation',
  name: 'pump pulsation, refill, stepper or check valve',
  family: 'liquid supply',
  prior: 3,
  signs: {
    level: { usual: 9 },
    scatter: { usual: 5, larger: 5 },
    shape: { ripple: 9 },
    period: { minutes: 6, seconds: 3, subsecond: 1 },
    when: { throughout: 9 },
    background: { together: 9 },
    fill: { irregular: 3, usual: 6 },
    'current-form': { periodic: 9 },
    pressure: { periodic: 9.5 },
    meniscus: { cone: 5, rounded: 5 },
    'flow-change': { yes: 9 },
    swap: { same: 9.5 },
    'other-tips': { yes: 8, no: 2 },
  },
  lookAlikes: [
    { fault: 'hanging-drop', separatedBy: 'pressure', words: 'a drop leaves the pressure flat' },
    { fault: 'trapped-air', separatedBy: 'period', words: 'trapped air has no period' },
  ],
  actions: [
    { gate: 'none', words: 'Lay pressure and level over each other.' },
    { gate: 'pressure off', words: 'Purge and prime; have the seals looked at.' },
    { gate: 'pressure off', words: 'A smaller syringe, finer steps, or a damping capillary.' },
  ],
  numbers: 'A 10 µL stroke lasts 33 min at 300 nL/min. The ripple of the current is half that of the flow.',
  sources: ['computed', 'common practice, no source'],
};
