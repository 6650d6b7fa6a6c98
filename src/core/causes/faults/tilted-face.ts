import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'tilted-face',
  name: 'tilted or ragged face, jet off axis',
  family: 'tip',
  prior: 2,
  settle: true,
  signs: {
    age: { fresh: 7, middle: 3 },
    level: { lower: 9 },
    scatter: { usual: 9 },
    trend: { none: 8 },
    shape: { none: 9 },
    current: { usual: 9 },
    'current-form': { quiet: 9 },
    pressure: { usual: 9.5 },
    meniscus: { tilted: 9 },
    rotate: { moves: 9 },
    nudge: { rise: 8, same: 2 },
    swap: { cured: 9 },
    since: { handling: 5, nothing: 5 },
    fill: { longer: 7 },
    background: { together: 8 },
  },
  lookAlikes: [
    { fault: 'offset-drift', separatedBy: 'rotate', words: 'a tilted face turns the optimum with it' },
    { fault: 'partial-clog', separatedBy: 'scatter', words: 'a clog scatters' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Centre by the plume, not by the tip.' },
    { gate: 'hands off power', words: 'Turn by 90°: the optimum moves with a tilted face.' },
    { gate: 'none', words: 'Reject at qualification.' },
  ],
  numbers: 'Stable but 20 to 80 % low; the jet stands 5 to 30° off axis.',
  sources: ['common practice, no source'],
};
