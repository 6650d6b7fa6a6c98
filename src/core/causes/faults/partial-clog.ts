import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'partial-clog',
  name: 'partial clog at the tip',
  family: 'liquid supply',
  prior: 6,
  signs: {
    age: { middle: 6, old: 4 },
    level: { lower: 8, usual: 2 },
    scatter: { larger: 9 },
    shape: { square: 3, none: 3, wander: 2 },
    trend: { hours: 9, none: 1 },
    fill: { longer: 8 },
    background: { together: 9 },
    current: { lower: 6, usual: 4 },
    'current-form': { noisy: 9 },
    pressure: { usual: 9, rising: 1 },
    meniscus: { plug: 7, tilted: 2, cone: 1 },
    'other-tips': { no: 9 },
    swap: { cured: 9.5, same: 0.5 },
    raise: { better: 3, same: 6 },
    since: { nothing: 8, sample: 2 },
  },
  lookAlikes: [
    {
      fault: 'inlet-dirty',
      separatedBy: 'swap',
      words: 'a good tip at the same place cures a clog, not a dirty inlet',
    },
    { fault: 'voltage-low', separatedBy: 'raise', words: '50 to 100 V more calm a low voltage at once' },
    { fault: 'tip-wetted', separatedBy: 'dry-restart', words: 'drying cures wetting only' },
  ],
  actions: [
    {
      gate: 'raise',
      words:
        'Voltage off, then flow two to three times up at high organic for 5 to 10 min, below the pressure rating; dry the shank and restart voltage before flow.',
    },
    {
      gate: 'hands off power',
      words:
        'Voltage off: rinse the tip in organic, then 0.1 to 1 % acid; flush backwards if the tip comes off.',
    },
    { gate: 'pressure off', words: 'Replace it; filter and spin the samples, add an inline filter.' },
  ],
  numbers:
    'Most common end of life of 5 to 10 µm tips; pulled tapers clog more than etched ones of constant bore. A tip can be closed by 80 % in diameter and the pressure still looks normal.',
  sources: ['Kelly et al. 2006, Anal. Chem. (from memory)', 'common practice, no source'],
};
