import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'ageing',
  name: 'ageing of the emitter',
  family: 'tip',
  prior: 3,
  settle: true,
  signs: {
    age: { old: 8, middle: 2 },
    level: { lower: 7, usual: 3 },
    scatter: { usual: 5, larger: 5 },
    trend: { weeks: 9 },
    current: { usual: 7, lower: 3 },
    pressure: { usual: 9 },
    meniscus: { cone: 6, jagged: 3, flooded: 1 },
    raise: { better: 8, same: 2 },
    swap: { cured: 9.5 },
    since: { nothing: 8 },
    fill: { longer: 6, usual: 4 },
    'dry-restart': { same: 9 },
  },
  lookAlikes: [
    { fault: 'drop-in-column-voltage', separatedBy: 'when', words: 'ageing does not follow the composition' },
    { fault: 'leakage', separatedBy: 'leak-current', words: 'no current without liquid with an aged tip' },
    { fault: 'climate', separatedBy: 'climate', words: 'ageing does not follow the weather' },
  ],
  actions: [
    { gate: 'none', words: 'Keep the onset of each emitter on the bench as a trend.' },
    { gate: 'none', words: 'Set a limit for retirement: onset 15 to 20 % up, or signal 30 % down.' },
    { gate: 'pressure off', words: 'Replace before the big queue.' },
  ],
  numbers: 'The best voltage creeps up by 10 to 50 V a day.',
  sources: ['common practice, no source'],
};
