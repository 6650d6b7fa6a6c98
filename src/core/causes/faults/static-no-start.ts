import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'static-no-start',
  name: 'static emitter does not start',
  family: 'liquid supply',
  prior: 2,
  signs: {
    'plan-voltage': { below: 5, inside: 5 },
    level: { none: 9 },
    trend: { none: 8 },
    fill: { maximum: 8 },
    current: { none: 8, micro: 2 },
    meniscus: { nothing: 8, bubbles: 2 },
    'pressure-pulse': { nothing: 5, bead: 5 },
    since: { handling: 8 },
    swap: { cured: 8 },
    'gas-up': { same: 7, returns: 3 },
    background: { together: 8 },
  },
  lookAlikes: [
    { fault: 'static-dry', separatedBy: 'trend', words: 'a dry tip had worked before' },
    { fault: 'leakage', separatedBy: 'leak-current', words: 'current without liquid is leakage' },
  ],
  actions: [
    {
      gate: 'hands off power',
      words: 'Spin or flick the emitter, or load it from behind with a long fine tip; goggles on.',
    },
    {
      gate: 'hands off power',
      words: 'Open a sealed tip by a light touch, voltage off; it widens by an unknown amount: record it.',
    },
    { gate: 'hands off power', words: 'A pressure pulse of 1 to 2 bar within the rating.' },
  ],
  numbers: 'A bead after the pulse: it was a bubble. None: sealed or blocked.',
  sources: ['common practice, no source'],
};
