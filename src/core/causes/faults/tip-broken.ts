import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'tip-broken',
  name: 'chipped or broken tip',
  family: 'tip',
  prior: 4,
  signs: {
    age: { fresh: 6, middle: 4 },
    level: { lower: 8, usual: 2 },
    scatter: { larger: 6, usual: 4 },
    trend: { sudden: 8 },
    shape: { step: 7, none: 3 },
    current: { higher: 6, usual: 4 },
    'current-form': { noisy: 6 },
    pressure: { usual: 9.5 },
    meniscus: { jagged: 9, tilted: 1 },
    since: { handling: 8 },
    swap: { cured: 9.5 },
    raise: { better: 5, same: 4 },
    'dry-restart': { same: 9.5 },
    nudge: { rise: 6, same: 4 },
  },
  lookAlikes: [
    { fault: 'tip-wetted', separatedBy: 'dry-restart', words: 'drying does not mend a chip' },
    { fault: 'tilted-face', separatedBy: 'rotate', words: 'a tilted face turns the optimum with it' },
  ],
  actions: [
    { gate: 'none', words: 'Photograph it against the reference picture.' },
    {
      gate: 'hands off power',
      words: 'Cut anew only where the bore is constant; goggles, sharps container.',
    },
    { gate: 'hands off power', words: 'Bin it; note who and when.' },
  ],
  numbers:
    'Half a millimetre of a 10 µm bore lost is 0.09 bar: the pressure does not show it. 0.3 to 1 kV more is needed.',
  sources: ['computed', 'common practice, no source'],
};
