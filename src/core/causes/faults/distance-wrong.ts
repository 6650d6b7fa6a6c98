import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'distance-wrong',
  name: 'wrong distance to the inlet',
  family: 'position, gas, inlet',
  prior: 3,
  settle: true,
  signs: {
    'plan-distance': { near: 4, far: 4, usual: 2 },
    level: { lower: 6, higher: 2, usual: 2 },
    scatter: { usual: 5, larger: 5 },
    shape: { spikes: 4, none: 6 },
    'odd-ions': { wet: 4, salt: 1, none: 5 },
    current: { usual: 7, higher: 2 },
    'current-form': { quiet: 7, noisy: 3 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9 },
    gap: { gone: 5, same: 5 },
    since: { handling: 7 },
    nudge: { same: 8 },
    swap: { same: 8 },
    fill: { longer: 5, usual: 5 },
  },
  lookAlikes: [
    { fault: 'offset-drift', separatedBy: 'nudge', words: 'a sideways move does not help a wrong distance' },
    { fault: 'inlet-blocked', separatedBy: 'vacuum', words: 'the foreline shows a blocked inlet' },
    { fault: 'wet-droplets', separatedBy: 'offset', words: 'more offset removes wet droplets' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Voltage and distance move together: keep the margin over onset.' },
    {
      gate: 'hands off power',
      words:
        '1 to 5 mm in steps of 0.5 mm at constant field, voltage off for each move unless the stage is outside.',
    },
    { gate: 'none', words: 'Stop at the far side of the plateau.' },
  ],
  numbers: 'Nano emitters stand about 2 to 3 mm away; the onset changes by about 54 V per mm at 3 mm.',
  sources: ['PMC4276539 (read (abstract)): about 2 to 3 mm', 'computed'],
};
