import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'inlet-blocked',
  name: 'inlet partly blocked, its temperature or gas wrong',
  family: 'position, gas, inlet',
  prior: 2,
  signs: {
    level: { lower: 9 },
    scatter: { usual: 6, larger: 4 },
    shape: { spikes: 4, none: 6 },
    trend: { sudden: 5, hours: 3 },
    'odd-ions': { wet: 7, none: 3 },
    range: { part: 6, all: 4 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9.5 },
    vacuum: { off: 9.5 },
    swap: { same: 9.5 },
    reference: { low: 9 },
  },
  lookAlikes: [
    { fault: 'distance-wrong', separatedBy: 'vacuum', words: 'the foreline shows a blocked inlet' },
    { fault: 'inlet-dirty', separatedBy: 'trend', words: 'dirt grows over weeks' },
  ],
  actions: [
    { gate: 'none', words: 'Read temperature and foreline pressure against the log.' },
    { gate: 'hands off power', words: 'Clear it with the instrument in standby, cooled, by trained staff.' },
    { gate: 'hands off power', words: 'Replace.' },
  ],
  numbers: 'Solvent clusters, wet spikes, loss at high m/z.',
  sources: ['common practice, no source'],
};
