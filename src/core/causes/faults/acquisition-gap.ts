import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'acquisition-gap',
  name: 'acquisition gap or change of scan mode',
  family: 'inside the instrument',
  prior: 2,
  signs: {
    level: { usual: 9.5 },
    scatter: { usual: 9.5 },
    shape: { missing: 9.5 },
    background: { usual: 9.5 },
    fill: { usual: 9 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9.5 },
    swap: { same: 9.5 },
    when: { fixed: 5, random: 5 },
  },
  lookAlikes: [
    { fault: 'high-voltage-off', separatedBy: 'shape', words: 'missing scans are not low scans' },
    { fault: 'loose-contact', separatedBy: 'shape', words: 'missing scans are not low scans' },
  ],
  actions: [
    { gate: 'none', words: 'Flag it as no data, never as no spray.' },
    { gate: 'none', words: 'Look at the histogram of scan intervals.' },
    { gate: 'none', words: 'Free the computer during runs.' },
  ],
  numbers: 'Scan times skip: intervals above three times the median.',
  sources: ['common practice, no source'],
};
