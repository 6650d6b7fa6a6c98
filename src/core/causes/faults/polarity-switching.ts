import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'polarity-switching',
  name: 'transients of polarity or voltage switching',
  family: 'voltage and electrics',
  prior: 2,
  signs: {
    level: { usual: 7, lower: 3 },
    scatter: { larger: 7, usual: 3 },
    shape: { square: 4, ripple: 4, spikes: 2 },
    period: { seconds: 6, subsecond: 3 },
    polarity: { 'after-switch': 9.5 },
    'current-form': { pulses: 8 },
    pressure: { usual: 9.5 },
    meniscus: { rounded: 6, cone: 4 },
    'one-polarity': { clean: 9.5 },
    since: { switch: 9 },
    swap: { same: 9.5 },
  },
  lookAlikes: [
    { fault: 'pump-pulsation', separatedBy: 'one-polarity', words: 'one polarity only is clean' },
    {
      fault: 'current-limit',
      separatedBy: 'one-polarity',
      words: 'one polarity only does not cure a supply limit',
    },
  ],
  actions: [
    { gate: 'none', words: 'Let it settle 0.2 to 1 s or discard these scans.' },
    { gate: 'knob', words: 'Its own voltage for each polarity.' },
    { gate: 'knob', words: 'Do not go to zero: step to a bias below onset.' },
  ],
  numbers: 'The first 0.1 to 3 s after each switch are lost; cable and supply take 10 to 300 ms.',
  sources: ['common practice, no source'],
};
