import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'arcing',
  name: 'arcing to the inlet',
  family: 'voltage and electrics',
  prior: 2,
  signs: {
    'plan-voltage': { above: 5, inside: 5 },
    'plan-distance': { near: 5, usual: 5 },
    level: { usual: 6, lower: 4 },
    scatter: { larger: 6, usual: 4 },
    shape: { spikes: 9 },
    trend: { sudden: 5, none: 5 },
    current: { micro: 6, higher: 4 },
    'current-form': { pulses: 9 },
    pressure: { usual: 9.5 },
    meniscus: { glow: 8, cone: 2 },
    gap: { gone: 9 },
    holder: { wet: 3, dry: 7 },
    since: { arc: 6, handling: 3 },
    'read-back': { equal: 6, below: 4 },
  },
  lookAlikes: [
    {
      fault: 'corona-positive',
      separatedBy: 'current-form',
      words: 'an arc comes in pulses, corona is steady',
    },
    { fault: 'current-limit', separatedBy: 'shape', words: 'a supply in its limit hiccups regularly' },
    { fault: 'wet-droplets', separatedBy: 'offset', words: 'more offset removes wet droplets' },
    { fault: 'fill-control', separatedBy: 'fixed-fill', words: 'fixed fill does not change an arc' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Voltage off, lock out, inspect tip and inlet.' },
    { gate: 'hands off power', words: '1 to 2 mm back, lower voltage.' },
    {
      gate: 'pressure off',
      words:
        'A series resistor: 10 MΩ limits 3 kV to 0.3 mA and costs 2 V at 200 nA; fitted by trained staff.',
    },
  ],
  numbers:
    'Air holds about 3 kV per mm between plates, less at points; a wet drop that bridges the gap is the usual cause.',
  sources: ['from memory', 'common practice, no source'],
};
