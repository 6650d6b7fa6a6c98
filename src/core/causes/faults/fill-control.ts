import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'fill-control',
  name: 'fill control or pre-scan misfires',
  family: 'inside the instrument',
  prior: 2,
  signs: {
    level: { usual: 8 },
    scatter: { larger: 6, usual: 4 },
    shape: { spikes: 7, none: 3 },
    fill: { irregular: 9.5 },
    background: { usual: 6, together: 4 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9.5 },
    'fixed-fill': { stops: 9.5 },
    swap: { same: 9.5 },
    'other-tips': { yes: 8, no: 2 },
  },
  lookAlikes: [
    { fault: 'arcing', separatedBy: 'fixed-fill', words: 'fixed fill times do not stop arcs' },
    { fault: 'hidden-pulsation', separatedBy: 'fixed-fill', words: 'fixed fill times do not stop pulsation' },
  ],
  actions: [
    { gate: 'none', words: 'Compare level and injection time scan by scan.' },
    { gate: 'none', words: 'Fix the fill time for two minutes.' },
    { gate: 'none', words: 'Lower the target.' },
  ],
  numbers:
    'The time jumps while level times time stays: true change of flux. Time steady while the level jumps: faster than the pre-scan, or the detector.',
  sources: ['common practice, no source'],
};
