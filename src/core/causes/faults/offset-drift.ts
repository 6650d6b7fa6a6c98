import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'offset-drift',
  name: 'lateral offset, drift or a bent emitter',
  family: 'position, gas, inlet',
  prior: 5,
  settle: true,
  signs: {
    level: { lower: 9 },
    scatter: { usual: 9.5 },
    shape: { none: 8, wander: 2 },
    trend: { hours: 6, sudden: 4 },
    current: { usual: 9.5 },
    'current-form': { quiet: 9.5 },
    pressure: { usual: 9.5 },
    meniscus: { cone: 9 },
    nudge: { rise: 9.5 },
    since: { handling: 5, climate: 2, nothing: 3 },
    swap: { same: 6, cured: 4 },
    fill: { longer: 8 },
    background: { together: 9 },
    climate: { follows: 3, no: 7 },
  },
  lookAlikes: [
    { fault: 'inlet-dirty', separatedBy: 'nudge', words: 'a move does not help a dirty inlet' },
    { fault: 'tilted-face', separatedBy: 'rotate', words: 'turning does not move the optimum' },
    { fault: 'distance-wrong', separatedBy: 'nudge', words: 'only a sideways move helps' },
  ],
  actions: [
    { gate: 'hands off power', words: '0.1 to 0.2 mm to each side while watching a steady ion.' },
    { gate: 'none', words: 'Lock it, let it warm up 30 to 60 min.' },
    { gate: 'none', words: 'A mark and a photograph.' },
  ],
  numbers:
    'Steady, low, quiet: the current unchanged is the key. 0.5 to 1 mm offset on purpose spares the inlet (common practice).',
  sources: ['common practice, no source'],
};
