import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'hidden-pulsation',
  name: 'pulsation that looks fine',
  family: 'voltage and electrics',
  prior: 3,
  settle: true,
  signs: {
    'plan-voltage': { below: 5, inside: 5 },
    'plan-flow': { below: 6, enough: 4 },
    level: { usual: 9 },
    scatter: { larger: 6, usual: 4 },
    shape: { none: 9 },
    period: { none: 9 },
    fill: { irregular: 4, usual: 5 },
    background: { together: 8 },
    current: { lower: 5, usual: 5 },
    'current-form': { pulses: 6, periodic: 4 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 6, cone: 4 },
    raise: { better: 8, same: 2 },
    swap: { same: 7, cured: 3 },
  },
  lookAlikes: [
    { fault: 'pump-pulsation', separatedBy: 'pressure', words: 'a pump moves the pressure' },
    { fault: 'voltage-low', separatedBy: 'level', words: 'a clearly low voltage costs level' },
  ],
  actions: [
    { gate: 'none', words: 'Record one second of current through a meter fast enough.' },
    { gate: 'raise', words: 'Voltage up until the line goes and the current stands, hands clear.' },
    { gate: 'knob', words: 'A little more flow, above the minimum.' },
  ],
  numbers: 'The cone pulsates at 1 to 600 kHz; the scans come a few times a second.',
  sources: [
    'Marginean et al. 2007, Anal. Chem. 79, 8030 (read (abstract))',
    'Bober & Chen 2011, J. Fluid Mech., doi 10.1017/jfm.2011.453 (read (abstract))',
  ],
};
