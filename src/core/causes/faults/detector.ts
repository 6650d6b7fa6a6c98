import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'detector',
  name: 'detector, lens, vacuum or calibration',
  family: 'inside the instrument',
  prior: 2,
  signs: {
    level: { lower: 9 },
    scatter: { usual: 8 },
    shape: { none: 6, step: 4 },
    range: { part: 7, all: 3 },
    background: { together: 7, usual: 3 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9.5 },
    calibrant: { fails: 9.5 },
    vacuum: { off: 4, logged: 6 },
    swap: { same: 9.5 },
    'other-tips': { yes: 9.5 },
    reference: { low: 9 },
  },
  lookAlikes: [
    { fault: 'inlet-dirty', separatedBy: 'calibrant', words: "the instrument's own check fails" },
    { fault: 'offset-drift', separatedBy: 'calibrant', words: 'a move does not mend the instrument' },
  ],
  actions: [
    { gate: 'none', words: 'System check before emitters.' },
    { gate: 'none', words: 'Read-backs against the log.' },
    { gate: 'none', words: 'Call the trained person.' },
  ],
  numbers: 'All or one range of m/z, also with a new emitter.',
  sources: ['common practice, no source'],
};
