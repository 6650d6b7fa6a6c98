import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'suppression-or-valley',
  name: 'a real chromatographic valley or suppression',
  family: 'liquid composition',
  prior: 5,
  signs: {
    level: { lower: 9 },
    scatter: { usual: 9.5 },
    shape: { none: 6, step: 1, wander: 3 },
    when: { fixed: 8, end: 1, start: 1 },
    fill: { longer: 8 },
    background: { stay: 9.5 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9.5 },
    blank: { gone: 6, there: 4 },
    swap: { same: 9.5 },
    retention: { usual: 9 },
  },
  lookAlikes: [
    { fault: 'pump-not-delivering', separatedBy: 'background', words: 'background ions stay in a valley' },
    { fault: 'union-dead-volume', separatedBy: 'retention', words: 'widths stay in a valley' },
    { fault: 'mobile-phase-wrong', separatedBy: 'when', words: 'a valley has its minute' },
  ],
  actions: [
    { gate: 'none', words: 'Nothing: it is chemistry.' },
    { gate: 'none', words: 'Compare a replicate.' },
    { gate: 'none', words: 'Use a level normalised by the background ions.' },
  ],
  numbers: 'Smooth on the scale of a peak (10 to 60 s), at the same time in each replicate.',
  sources: ['common practice, no source'],
};
