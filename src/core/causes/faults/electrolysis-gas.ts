import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'electrolysis-gas',
  name: 'electrolysis gas at the electrode',
  family: 'liquid supply',
  prior: 2,
  signs: {
    level: { usual: 6, lower: 4 },
    scatter: { larger: 6, usual: 4 },
    shape: { sawtooth: 5, square: 5 },
    period: { seconds: 6, minutes: 4 },
    when: { throughout: 8 },
    background: { together: 8 },
    'current-form': { sawtooth: 9 },
    pressure: { usual: 9.5 },
    meniscus: { bubbles: 9 },
    'voltage-off': { stop: 9 },
    polarity: { negative: 5, both: 5 },
    'leak-current': { some: 4, nothing: 6 },
    'contact-at-tip': { gone: 6, same: 4 },
  },
  lookAlikes: [
    {
      fault: 'outgassing',
      separatedBy: 'voltage-off',
      words: 'bubbles that go on without voltage come out of solution',
    },
    {
      fault: 'hanging-drop',
      separatedBy: 'voltage-off',
      words: 'only electrolysis shows bubbles that stop with the voltage',
    },
  ],
  actions: [
    {
      gate: 'none',
      words: 'Find the leakage current: one ground point only, longer or thinner grounded path.',
    },
    { gate: 'pressure off', words: 'Move the electrode out of the flow or use a porous contact.' },
    { gate: 'none', words: 'Degas; think of a redox-buffered electrode.' },
  ],
  numbers:
    'At 200 nA and 300 nL/min oxygen reaches 8 % of its solubility; at 100 nA and 20 nL/min 61 %, hydrogen in negative mode 200 %. Doubling the current halves the interval.',
  sources: ["computed from Faraday's law", 'common practice, no source'],
};
