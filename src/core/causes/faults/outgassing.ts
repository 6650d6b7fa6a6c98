import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'outgassing',
  name: 'gas coming out of solution',
  family: 'liquid supply',
  prior: 2,
  signs: {
    level: { usual: 7, lower: 3 },
    scatter: { usual: 4, larger: 6 },
    shape: { square: 7, overshoot: 3 },
    when: { random: 5, throughout: 3, end: 2 },
    period: { none: 5, seconds: 4 },
    background: { together: 8 },
    'current-form': { square: 5, pulses: 5 },
    pressure: { usual: 9 },
    meniscus: { bubbles: 9 },
    'voltage-off': { 'go-on': 9 },
    climate: { follows: 4, no: 6 },
    swap: { same: 8 },
  },
  lookAlikes: [
    {
      fault: 'electrolysis-gas',
      separatedBy: 'voltage-off',
      words: 'bubbles that stop with the voltage come from electrolysis',
    },
  ],
  actions: [
    { gate: 'knob', words: 'Voltage off and watch for two minutes.' },
    { gate: 'none', words: 'Degas: ultrasound or vacuum, helium where it is customary.' },
    { gate: 'pressure off', words: 'Cool the last piece, or use a smaller bore tip for some back pressure.' },
  ],
  numbers:
    'Short dropouts of 0.1 to 3 s, more with warmth and in mid-gradient mixing; cooling the last piece by 10 °C lowers the rate.',
  sources: ['common practice, no source'],
};
