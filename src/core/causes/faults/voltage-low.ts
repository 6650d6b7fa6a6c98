import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'voltage-low',
  name: 'voltage too low',
  family: 'voltage and electrics',
  prior: 6,
  settle: true,
  signs: {
    'plan-voltage': { below: 7, inside: 3 },
    level: { lower: 8, usual: 2 },
    scatter: { larger: 9.5 },
    shape: { ripple: 3, none: 4, spikes: 2, sawtooth: 2 },
    background: { together: 9 },
    fill: { irregular: 5, longer: 5 },
    current: { lower: 8 },
    'current-form': { pulses: 8, noisy: 2 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 9 },
    raise: { better: 9.5 },
    lower: { worse: 8, same: 2 },
    swap: { same: 7, cured: 3 },
  },
  lookAlikes: [
    { fault: 'partial-clog', separatedBy: 'raise', words: 'more voltage does not open a clog' },
    { fault: 'leak-after-column', separatedBy: 'raise', words: 'more voltage does not mend a leak' },
    { fault: 'voltage-high', separatedBy: 'raise', words: 'more voltage makes it worse when it is too high' },
  ],
  actions: [
    { gate: 'raise', words: '50 V up (small tips) or 100 V, hands clear, never past the discharge limit.' },
    {
      gate: 'none',
      words:
        "An onset more than 20 % above the emitter's record: think of wetting, a broken tip or the drop in the liquid.",
    },
    { gate: 'knob', words: 'Settle 10 to 20 % of the window above its lower edge.' },
  ],
  numbers: 'Scatter of 20 to 100 %; in the cone-jet the signal is better than in bursts or pulsation.',
  sources: [
    'Nemes, Marginean & Vertes 2007, Anal. Chem. 79, 3105 (read (abstract))',
    'common practice, no source',
  ],
};
