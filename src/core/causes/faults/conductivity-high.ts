import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'conductivity-high',
  name: 'liquid too conductive',
  family: 'liquid composition',
  prior: 2,
  signs: {
    level: { lower: 7 },
    scatter: { larger: 8 },
    'odd-ions': { salt: 7, air: 3 },
    current: { higher: 6, micro: 4 },
    'current-form': { pulses: 7, noisy: 3 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 5, glow: 2, several: 2 },
    dilute: { calm: 9.5 },
    since: { sample: 4, bottle: 4, nothing: 2 },
    raise: { worse: 5, same: 4 },
    swap: { same: 7, cured: 3 },
  },
  lookAlikes: [
    { fault: 'corona-positive', separatedBy: 'dilute', words: 'a diluted buffer is calm' },
    { fault: 'sample-plug', separatedBy: 'swap', words: 'a new tip does not help a conductive liquid' },
  ],
  actions: [
    { gate: 'hands off power', words: 'A smaller tip and less flow.' },
    { gate: 'knob', words: 'Less voltage.' },
    { gate: 'none', words: 'Less salt.' },
  ],
  numbers:
    'Native buffers of 100 to 500 mM, ion pairing, trifluoroacetic acid: microamperes and a spray only at low flow.',
  sources: ['Chem. Sci. 2023, 14, 4506 (read (abstract))', 'common practice, no source'],
};
