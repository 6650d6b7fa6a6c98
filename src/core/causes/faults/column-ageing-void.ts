import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'column-ageing-void',
  name: 'column aged or a void at its head',
  family: 'liquid composition',
  prior: 2,
  signs: {
    level: { usual: 5, lower: 5 },
    scatter: { usual: 9.5 },
    shape: { none: 9.5 },
    trend: { weeks: 8, hours: 2 },
    retention: { broad: 8, late: 2 },
    background: { usual: 9 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { rising: 7, usual: 3 },
    meniscus: { cone: 9.5 },
    reseat: { same: 9.5 },
    swap: { same: 9.5 },
    fill: { usual: 8 },
  },
  lookAlikes: [
    { fault: 'union-dead-volume', separatedBy: 'reseat', words: 'seating the union anew does not help' },
    { fault: 'leak-before-column', separatedBy: 'pressure', words: 'the pressure is low with a leak' },
  ],
  actions: [
    { gate: 'none', words: 'Look at peak widths over the whole run.' },
    { gate: 'pressure off', words: 'Cut or turn the column where its maker allows.' },
    { gate: 'pressure off', words: 'Replace it.' },
  ],
  numbers: 'Broad at every retention; the spray itself is fine.',
  sources: ['common practice, no source'],
};
