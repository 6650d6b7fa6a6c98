import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'column-bleed',
  name: 'column bleed or polymer at the wash',
  family: 'liquid composition',
  prior: 3,
  signs: {
    level: { higher: 9, usual: 1 },
    scatter: { usual: 9.5 },
    when: { end: 8, throughout: 2 },
    shape: { none: 9 },
    'odd-ions': { polymer: 9.5 },
    background: { up: 9 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9 },
    pressure: { usual: 9 },
    meniscus: { cone: 9.5 },
    swap: { same: 9.5 },
    'other-tips': { yes: 9 },
  },
  lookAlikes: [
    { fault: 'organic-end', separatedBy: 'scatter', words: 'an unsteady spray scatters' },
    { fault: 'surfactant', separatedBy: 'since', words: 'bleed does not come with a sample' },
  ],
  actions: [
    { gate: 'none', words: 'Name the ions by their spacing.' },
    { gate: 'none', words: 'Clean bottles and lines.' },
    { gate: 'none', words: 'Never call it a spray fault.' },
  ],
  numbers:
    'm/z 371.101 and 445.120 with spacing 74.019; phthalates 149.023, 279.159, 391.284; PEG spacing 44.026.',
  sources: ['published background ion lists (read (abstract))'],
};
