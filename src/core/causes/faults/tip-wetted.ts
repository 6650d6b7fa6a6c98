import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'tip-wetted',
  name: 'emitter wetted up the outside',
  family: 'tip',
  prior: 5,
  signs: {
    level: { lower: 9 },
    scatter: { larger: 8, usual: 2 },
    trend: { sudden: 5, none: 5 },
    current: { lower: 8 },
    'current-form': { noisy: 6, pulses: 2 },
    pressure: { usual: 9.5 },
    meniscus: { flooded: 9 },
    since: { idle: 5, handling: 2, nothing: 3 },
    'dry-restart': { cured: 9 },
    raise: { better: 6, same: 4 },
    background: { together: 8 },
    swap: { cured: 8 },
    period: { none: 7, minutes: 3 },
  },
  lookAlikes: [
    { fault: 'tip-broken', separatedBy: 'dry-restart', words: 'drying cures wetting only' },
    { fault: 'ageing', separatedBy: 'trend', words: 'ageing creeps over days' },
    { fault: 'drop-in-column-voltage', separatedBy: 'when', words: 'a voltage drop follows the composition' },
  ],
  actions: [
    { gate: 'hands off power', words: 'Dry it: voltage off, flow off, a puff of gas.' },
    { gate: 'raise', words: 'Restart voltage before flow.' },
    {
      gate: 'hands off power',
      words: 'A drier outside (silanised or fluorinated by trained staff), or a smaller rim.',
    },
  ],
  numbers: 'The onset moves by 0.3 to 1.5 kV: a flooded 360 µm shank is another emitter.',
  sources: [
    'Lozano et al. 2004, J. Colloid Interface Sci. 276, 392 (read (abstract)): dry faces pin the cone',
    'computed',
  ],
};
