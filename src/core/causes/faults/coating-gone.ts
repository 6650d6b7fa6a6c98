import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'coating-gone',
  name: 'conductive coating gone',
  family: 'tip',
  prior: 2,
  signs: {
    age: { old: 5, middle: 4 },
    level: { none: 5, lower: 5 },
    scatter: { larger: 8 },
    shape: { square: 5, step: 3, none: 2 },
    trend: { sudden: 5, hours: 5 },
    current: { none: 5, lower: 4 },
    'current-form': { square: 6, noisy: 3 },
    pressure: { usual: 9.5 },
    meniscus: { collar: 7, rounded: 3 },
    since: { arc: 6, nothing: 4 },
    polarity: { negative: 4, both: 6 },
    'contact-at-tip': { same: 6, gone: 3 },
    raise: { better: 6, same: 4 },
    swap: { cured: 9.5 },
    'voltage-off': { none: 9.5 },
  },
  lookAlikes: [
    { fault: 'full-clog', separatedBy: 'pressure', words: 'a clog lets the pressure rise' },
    {
      fault: 'loose-contact',
      separatedBy: 'tap',
      words: 'touching the contact does not change a lost coating',
    },
  ],
  actions: [
    { gate: 'pressure off', words: 'Contact upstream as a rescue; mind the drop in the liquid.' },
    { gate: 'hands off power', words: 'Replace.' },
    { gate: 'knob', words: 'Limit the current, avoid arcs.' },
  ],
  numbers: 'Sputtered gold lasts minutes to hours, films on an adhesion layer days.',
  sources: [
    'Kriger, Cook & Ramsey 1995, Anal. Chem. 67, 385 (read (abstract))',
    'common practice, no source',
  ],
};
