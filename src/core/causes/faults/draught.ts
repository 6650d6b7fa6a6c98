import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'draught',
  name: 'draught, exhaust suction or gas flow wrong',
  family: 'position, gas, inlet',
  prior: 3,
  signs: {
    level: { usual: 7, lower: 3 },
    scatter: { larger: 7, usual: 3 },
    shape: { wander: 8, spikes: 1 },
    period: { none: 6, minutes: 3, seconds: 1 },
    when: { random: 9 },
    background: { together: 9 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 8, tilted: 2 },
    shield: { calm: 9.5 },
    since: { climate: 6, nothing: 4 },
    swap: { same: 9 },
    raise: { same: 9 },
  },
  lookAlikes: [
    { fault: 'voltage-low', separatedBy: 'current-form', words: 'the current is quiet in a draught' },
    { fault: 'trapped-air', separatedBy: 'shield', words: 'a box stops a draught' },
  ],
  actions: [
    { gate: 'none', words: 'Close the enclosure.' },
    { gate: 'knob', words: 'Gas to zero, then small steps.' },
    { gate: 'none', words: 'A baffle.' },
  ],
  numbers: 'Flicker of 0.1 to 10 s that follows people and the fume extraction.',
  sources: [
    'Allaf-Akbari & Ashgriz 2017, J. Aerosol Sci. 114, 233 (read (abstract)): cross-flow bends the plume, with hysteresis',
    'common practice, no source',
  ],
};
